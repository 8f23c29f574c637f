#include "loadlight/app/back_up.h"

#include "loadlight/app/act.h"
#include "loadlight/exchange/archive.h"

namespace loadlight::app {
namespace {

using core::Result;

constexpr std::size_t kLargestBeside = 1u << 20;  // bytes

// What lies beside the record, and whether an office can do without it.
struct Beside final {
  const char* name;
  bool needed;
};
constexpr Beside kBeside[] = {{"keys.json", true},      {"pins.json", false},  {"printers.json", false},
                              {"authority.pem", false}, {"authority-key.pem", false},
                              {"station.pem", false},   {"station-key.pem", false}};

Result<std::string> lead_day(const Ports& ports, std::string_view operator_code) {
  const auto act = begin_act(ports, operator_code);
  if (!act) return act.failure();
  if (const auto lead = require_lead(act->who); !lead) return lead.failure();
  return act->today.iso();
}

}  // namespace

Result<Backup> back_up(const World& world, const std::string& office_folder, const Ports& ports,
                       std::string_view operator_code) {
  const auto day = lead_day(ports, operator_code);
  if (!day) return day.failure();
  auto record = world.copy_record(office_folder);
  if (!record) return record.failure();
  std::vector<exchange::ArchivedFile> files{{"record.db", std::move(*record)}};
  for (const auto& [name, needed] : kBeside) {
    auto bytes = world.files.read(office_folder + "/" + name, kLargestBeside);
    if (!bytes && needed) return bytes.failure();
    if (bytes) files.push_back({name, std::move(*bytes)});
  }
  auto archive = exchange::make_archive(files, world.clock.now());
  if (!archive) return archive.failure();
  return Backup{"loadlight-" + *day + ".tar", std::move(*archive)};
}

}  // namespace loadlight::app
