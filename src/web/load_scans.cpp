#include "web/load_scans.h"

#include "loadlight/app/load_life.h"
#include "loadlight/app/package_reference.h"

namespace loadlight::web {
namespace {

using core::PackageState;
using core::Result;

Result<std::optional<core::Package>> package_of(const app::Ports& ports, const std::string& text) {
  const auto id = app::package_id_of(ports, text);
  if (!id) return id.failure();
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  return (*unit)->packages().find(*id);
}

}  // namespace

ScanAnswer add_scanned(const app::Ports& ports, const std::string& operator_code, const core::LoadName& load,
                       const std::string& text) {
  auto package = package_of(ports, text);
  if (!package) return {ScanAnswer::How::Refused, {}, package.failure()};
  if (*package && (**package).load == load && (**package).state == PackageState::Loaded) {
    return {ScanAnswer::How::Doubled, *package, {}};
  }
  const auto added = app::add_to_load(ports, {operator_code, load, {text}, {}});
  if (!added) return {ScanAnswer::How::Refused, *package, added.failure()};
  return {ScanAnswer::How::Taken, *package, {}};
}

std::optional<ScanAnswer> LoadScans::in_view(const std::string& camera, const std::string& text, Time now) {
  const std::lock_guard lock{mutex_};
  std::erase_if(held_, [now](const auto& entry) { return now - entry.second.seen > kGoneAfter; });
  const auto found = held_.find({camera, text});
  if (found == held_.end()) return std::nullopt;
  found->second.seen = now;
  return found->second.answer;
}

void LoadScans::keep(const std::string& camera, const std::string& text, ScanAnswer answer, Time now) {
  const std::lock_guard lock{mutex_};
  if (held_.size() >= kMost) held_.clear();
  held_.insert_or_assign({camera, text}, Held{std::move(answer), now});
}

}  // namespace loadlight::web
