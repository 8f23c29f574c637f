#include "loadlight/app/print_labels.h"

#include "app/label_run.h"
#include "app/load_moves.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr int kMostPackages = 500;

Failure bad_value(const char* field, std::string given) {
  return Failure{FailureCode::BadValue, {{"field", field}, {"given", std::move(given)}}, {}};
}

std::string codes_of(const std::vector<core::PackingStep>& steps) {
  std::string codes;
  for (const auto& step : steps) codes += (codes.empty() ? "" : " ") + std::string{step.code};
  return codes;
}

Failure not_acknowledged(const std::vector<core::PackingStep>& steps) {
  Failure failure{FailureCode::PackingNotAcknowledged, {}, {}};
  for (const auto& step : steps) failure.items.push_back({"packing." + std::string{step.code}, {}});
  return failure;
}

Result<std::vector<core::PackingStep>> steps_in(const port::Unit& unit, const std::string& contents,
                                                const std::string& kind) {
  const auto what = usable_contents(unit, contents);
  if (!what) return what.failure();
  const auto how = usable_kind(unit, kind);
  if (!how) return how.failure();
  return core::packing_steps_for(how->wrapping, *what);
}

}  // namespace

Result<std::vector<core::PackingStep>> steps_for(const Ports& ports, const std::string& contents,
                                                 const std::string& kind) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  return steps_in(**unit, contents, kind);
}

Result<PrintReply> print_labels(const Ports& ports, const PrintShop& shop, const PrintRequest& request) {
  if (request.count < 1 || request.count > kMostPackages) {
    return bad_value("count", std::to_string(request.count));
  }
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  if (const auto ok = refuse_while_behind(*act); !ok) return ok.failure();
  const core::CivilDate date = request.process_date.value_or(act->today);
  if (date < act->today) return bad_value("date", date.iso());
  const auto steps = steps_in(*act->unit, request.contents, request.kind);
  if (!steps) return steps.failure();
  if (const auto ok = usable_sterilizer(*act->unit, request.load.sterilizer); !ok) return ok.failure();
  const auto number = number_for_labels(*act, request.load);
  if (!number) return number.failure();
  const auto setting = settle_paper(*act->unit, shop, request.paper, label::Subject::Package, true);
  if (!setting) return setting.failure();
  if (number->packed_after && date != act->today) return bad_value("date", date.iso());
  if (!request.packed) return not_acknowledged(*steps);
  std::vector<core::Package> packages;
  const NewPackage what{request.load, date, request.operator_code, request.contents, request.kind};
  for (int i = 0; i < request.count; ++i) {
    auto package = make_package(ports, *act, what, setting->form.shows(label::SymbolPayload::ChartCopy));
    if (!package) return package.failure();
    if (number->packed_after) package->state = core::PackageState::Loaded;
    packages.push_back(std::move(*package));
  }
  NewRun run{core::EventKind::LabelsPrinted, request.load.text(), {}, {{"packing", codes_of(*steps)}}};
  if (number->is_new) run.more.emplace_back(number->load);
  return print_new(*act, shop, *setting, request.paper, std::move(packages), std::move(run));
}

}  // namespace loadlight::app
