#include "memory_state.h"

namespace loadlight::store {
namespace {

using core::Record;

struct Keeper final {
  MemoryState& state;

  void operator()(const core::Office& office) const { state.office = office; }
  void operator()(const core::Operator& one) const { state.operators.insert_or_assign(one.code, one); }
  void operator()(const core::Sterilizer& one) const { state.sterilizers.insert_or_assign(one.code, one); }
  void operator()(const core::Contents& one) const { state.contents.insert_or_assign(one.code, one); }
  void operator()(const core::PackageKind& one) const { state.kinds.insert_or_assign(one.code, one); }
  void operator()(const core::Location& one) const { state.locations.insert_or_assign(one.code, one); }
  void operator()(const core::LabelStock& one) const { state.stocks.insert_or_assign(one.code, one); }
  void operator()(const core::PrintRun& one) const { state.print_runs.insert_or_assign(one.number, one); }
  void operator()(const core::Package& one) const { state.packages.insert_or_assign(one.id, one); }
  void operator()(const core::Load& one) const { state.loads.insert_or_assign(one.name, one); }
  void operator()(const core::IndicatorReading& one) const {
    state.indicators.insert_or_assign(one.number, one);
  }
  void operator()(const core::BiologicalReading& one) const {
    state.biologicals.insert_or_assign(one.number, one);
  }
  void operator()(const core::Incident& one) const { state.incidents.insert_or_assign(one.number, one); }
  void operator()(const core::OfficeProgram& one) const { state.programs.insert_or_assign(one.code, one); }
  void operator()(const core::Consumable& one) const { state.consumables.insert_or_assign(one.lot, one); }
  void operator()(const core::OfficeSetting& one) const { state.settings.insert_or_assign(one.name, one); }
  void operator()(const core::ServiceEntry& one) const { state.services.insert_or_assign(one.number, one); }
  void operator()(const core::BiologicalRun& one) const {
    state.biological_runs.insert_or_assign(one.number, one);
  }
  void operator()(const core::CycleLog& one) const { state.cycle_logs.insert_or_assign(one.number, one); }
  void operator()(const core::IncidentStep& one) const {
    state.incident_steps.insert_or_assign(one.number, one);
  }
  void operator()(const core::Accounting& one) const {
    state.accountings.insert_or_assign({one.incident, one.package}, one);
  }
};

using Dangling = std::optional<std::string>;

template <class Table, class Key>
Dangling unless_in(const Table& table, const Key& key, std::string name) {
  if (table.contains(key)) return std::nullopt;
  return name;
}

Dangling first_of(std::initializer_list<Dangling> found) {
  for (const Dangling& one : found) {
    if (one) return one;
  }
  return std::nullopt;
}

Dangling dangling(const MemoryState& state, const core::Package& package) {
  return first_of({
      unless_in(state.loads, package.load, "load " + package.load.text()),
      unless_in(state.operators, package.operator_code, "operator " + package.operator_code),
      unless_in(state.contents, package.contents, "contents " + package.contents),
      unless_in(state.kinds, package.kind, "kind " + package.kind),
      unless_in(state.print_runs, package.print_run, "print-run " + std::to_string(package.print_run)),
      package.location ? unless_in(state.locations, *package.location, "location " + *package.location)
                       : std::nullopt,
      package.replaced_by
          ? unless_in(state.packages, *package.replaced_by, "package " + package.replaced_by->text())
          : std::nullopt,
  });
}

Dangling dangling(const MemoryState& state, const core::IndicatorReading& reading) {
  return first_of({unless_in(state.loads, reading.load, "load " + reading.load.text()),
                   unless_in(state.operators, reading.read_by, "operator " + reading.read_by),
                   reading.package
                       ? unless_in(state.packages, *reading.package, "package " + reading.package->text())
                       : std::nullopt});
}

Dangling dangling(const MemoryState& state, const core::BiologicalReading& reading) {
  return first_of({unless_in(state.loads, reading.load, "load " + reading.load.text()),
                   unless_in(state.operators, reading.read_by, "operator " + reading.read_by),
                   reading.of_run ? unless_in(state.biological_runs, *reading.of_run,
                                              "biological-run " + std::to_string(*reading.of_run))
                                  : std::nullopt});
}

Dangling dangling(const MemoryState& state, const core::Load& load) {
  return first_of({unless_in(state.sterilizers, load.name.sterilizer, "sterilizer " + load.name.sterilizer),
                   load.cycle_log ? unless_in(state.cycle_logs, *load.cycle_log,
                                              "cycle-log " + std::to_string(*load.cycle_log))
                                  : std::nullopt,
                   load.retest_of ? unless_in(state.incidents, *load.retest_of,
                                              "incident " + std::to_string(*load.retest_of))
                                  : std::nullopt});
}

Dangling dangling(const MemoryState& state, const core::BiologicalRun& run) {
  return first_of({unless_in(state.loads, run.load, "load " + run.load.text()),
                   unless_in(state.operators, run.placed_by, "operator " + run.placed_by)});
}

Dangling dangling(const MemoryState& state, const core::CycleLog& log) {
  return first_of({unless_in(state.loads, log.load, "load " + log.load.text()),
                   unless_in(state.operators, log.read_by, "operator " + log.read_by)});
}

Dangling dangling(const MemoryState& state, const core::IncidentStep& step) {
  return first_of({unless_in(state.incidents, step.incident, "incident " + std::to_string(step.incident)),
                   unless_in(state.operators, step.done_by, "operator " + step.done_by)});
}

Dangling dangling(const MemoryState& state, const core::Accounting& one) {
  return first_of({unless_in(state.incidents, one.incident, "incident " + std::to_string(one.incident)),
                   unless_in(state.packages, one.package, "package " + one.package.text()),
                   unless_in(state.operators, one.accounted_by, "operator " + one.accounted_by)});
}

Dangling dangling(const MemoryState& state, const core::OfficeProgram& program) {
  return first_of({unless_in(state.sterilizers, program.sterilizer, "sterilizer " + program.sterilizer),
                   unless_in(state.operators, program.entered_by, "operator " + program.entered_by)});
}

Dangling dangling(const MemoryState& state, const core::OfficeSetting& setting) {
  return unless_in(state.operators, setting.set_by, "operator " + setting.set_by);
}

Dangling dangling(const MemoryState& state, const core::ServiceEntry& entry) {
  return first_of({unless_in(state.sterilizers, entry.sterilizer, "sterilizer " + entry.sterilizer),
                   unless_in(state.operators, entry.done_by, "operator " + entry.done_by)});
}

Dangling dangling(const MemoryState& state, const core::Incident& incident) {
  return first_of({unless_in(state.sterilizers, incident.sterilizer, "sterilizer " + incident.sterilizer),
                   unless_in(state.operators, incident.opened_by, "operator " + incident.opened_by)});
}

Dangling dangling(const MemoryState& state, const core::PrintRun& run) {
  return unless_in(state.stocks, run.stock, "stock " + run.stock);
}

template <class Table>
Dangling dangling_in(const MemoryState& state, const Table& table) {
  for (const auto& [key, record] : table) {
    if (auto found = dangling(state, record)) return found;
  }
  return std::nullopt;
}

}  // namespace

void MemoryState::keep(const Record& record) {
  std::visit(Keeper{*this}, record);
}

std::optional<std::string> MemoryState::dangling_reference() const {
  return first_of({dangling_in(*this, loads), dangling_in(*this, print_runs), dangling_in(*this, packages),
                   dangling_in(*this, indicators), dangling_in(*this, biologicals),
                   dangling_in(*this, incidents), dangling_in(*this, programs), dangling_in(*this, settings),
                   dangling_in(*this, services), dangling_in(*this, biological_runs),
                   dangling_in(*this, cycle_logs), dangling_in(*this, incident_steps),
                   dangling_in(*this, accountings)});
}

}  // namespace loadlight::store
