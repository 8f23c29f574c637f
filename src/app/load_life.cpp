#include "loadlight/app/load_life.h"

#include "app/load_facts.h"
#include "app/load_moves.h"
#include "app/load_opening.h"
#include "app/package_moves.h"
#include "app/rules_in_force.h"
#include "loadlight/app/package_reference.h"

namespace loadlight::app {
namespace {

using core::EventKind;
using core::Failure;
using core::FailureCode;
using core::LoadMove;
using core::Result;

Result<core::LoadName> name_to_open(const port::Unit& unit, const OpenLoadRequest& request) {
  if (request.number) return core::LoadName{request.sterilizer, *request.number};
  return next_load_name(unit, request.sterilizer);
}

bool is_for_packages(core::LoadPurpose purpose) {
  return purpose == core::LoadPurpose::Process;
}

// Tests and retests are what a sterilizer that is out of service may run.
Result<core::Sterilizer> sterilizer_for(const port::Unit& unit, const std::string& code,
                                        core::LoadPurpose purpose) {
  return is_for_packages(purpose) ? usable_sterilizer(unit, code) : known_sterilizer(unit, code);
}

Failure incident_unknown(std::optional<int> number) {
  return Failure{FailureCode::IncidentUnknown, {{"incident", number ? std::to_string(*number) : ""}}, {}};
}

// The incident that a retest is for: the one that was named, or the newest open one that holds the
// sterilizer.
Result<std::optional<int>> incident_of(const port::Unit& unit, const OpenLoadRequest& request) {
  if (request.purpose != core::LoadPurpose::Retest) return std::optional<int>{};
  const auto open = unit.incidents().open_ones();
  if (!open) return open.failure();
  std::optional<int> chosen;
  for (const core::Incident& incident : *open) {
    const bool fits = request.incident ? incident.number == *request.incident : incident.sterilizer_held;
    if (fits && incident.sterilizer == request.sterilizer) chosen = incident.number;
  }
  if (!chosen) return incident_unknown(request.incident);
  return chosen;
}

// What each package and its contents are, for the rules about where they may go.
struct Aboard final {
  core::Package package;
  core::Contents contents;
  core::PackageKind kind;
};

Result<Aboard> describe(const port::Unit& unit, const core::Package& package) {
  const auto contents = unit.contents().find(package.contents);
  if (!contents) return contents.failure();
  const auto kind = unit.kinds().find(package.kind);
  if (!kind) return kind.failure();
  if (!*contents || !*kind) {
    return Failure{FailureCode::RecordDamaged, {{"why", "package " + package.id.text()}}, {}};
  }
  return Aboard{package, **contents, **kind};
}

Failure not_for_type_n(const core::LoadName& load, std::vector<core::Sentence> items) {
  return Failure{FailureCode::ProgramNotAllowed,
                 {{"program", load.text()}, {"sterilizer", load.sterilizer}},
                 std::move(items)};
}

Result<void> refuse_for_type_n(const port::Unit& unit, const core::Load& load,
                               const std::vector<core::Package>& packages,
                               const std::vector<core::LooseItems>& loose) {
  const auto sterilizer = known_sterilizer(unit, load.name.sterilizer);
  if (!sterilizer) return sterilizer.failure();
  if (sterilizer->type != core::SterilizerType::N) return {};
  std::vector<core::Sentence> refused;
  for (const core::Package& package : packages) {
    const auto aboard = describe(unit, package);
    if (!aboard) return aboard.failure();
    if (!core::allowed_in_type_n(aboard->kind.wrapping, aboard->contents)) {
      refused.push_back({"item.package", {{"package", package.id.grouped()}}});
    }
  }
  for (const core::LooseItems& line : loose) {
    const auto contents = unit.contents().find(line.contents);
    if (!contents) return contents.failure();
    if (*contents && (**contents).hollow) refused.push_back({"item.plain", {{"text", line.contents}}});
  }
  if (refused.empty()) return {};
  return not_for_type_n(load.name, std::move(refused));
}

// Labels that do not say what this load is: met here, at the sterilizer, and not at the chair.
Result<void> refuse_other_labels(const core::LoadName& load, core::CivilDate today,
                                 const std::vector<core::Package>& packages) {
  std::vector<core::Sentence> refused;
  for (const core::Package& package : packages) {
    if (package.load != load) {
      refused.push_back(
          {"item.label-names-load", {{"package", package.id.grouped()}, {"load", package.load.text()}}});
    } else if (package.process_date != today) {
      refused.push_back({"item.label-names-date",
                         {{"package", package.id.grouped()}, {"date", package.process_date.iso()}}});
    }
  }
  if (refused.empty()) return {};
  return Failure{
      FailureCode::LabelsNameAnother, {{"load", load.text()}, {"date", today.iso()}}, std::move(refused)};
}

Result<void> check_loose(const port::Unit& unit, const std::vector<core::LooseItems>& loose) {
  for (const core::LooseItems& line : loose) {
    const auto contents = unit.contents().find(line.contents);
    if (!contents) return contents.failure();
    if (!*contents) {
      return Failure{FailureCode::CodeUnknown, {{"table", "contents"}, {"code", line.contents}}, {}};
    }
    if ((**contents).retired_on) {
      return Failure{FailureCode::CodeRetired, {{"table", "contents"}, {"code", line.contents}}, {}};
    }
    if (line.count < 1 || line.count > 999) {
      return Failure{FailureCode::BadValue, {{"field", "count"}, {"given", std::to_string(line.count)}}, {}};
    }
  }
  return {};
}

Result<core::Load> open_for_filling(const port::Unit& unit, const core::LoadName& name) {
  auto load = find_load(unit, name);
  if (!load) return load;
  if (load->state != core::LoadState::Open) return wrong_state(*load);
  return load;
}

Result<bool> holds_implant(const port::Unit& unit, const std::vector<core::Package>& packages,
                           const std::vector<core::LooseItems>& loose) {
  std::vector<std::string> codes;
  for (const auto& package : packages) codes.push_back(package.contents);
  for (const auto& line : loose) codes.push_back(line.contents);
  for (const std::string& code : codes) {
    const auto contents = unit.contents().find(code);
    if (!contents) return contents.failure();
    if (!*contents || (**contents).implant) return true;
  }
  return false;
}

// When a service last let the sterilizer's counter begin again.
Result<std::optional<core::Instant>> counter_reset_at(const port::Unit& unit, const std::string& sterilizer) {
  const auto services = unit.services().of_sterilizer(sterilizer);
  if (!services) return services.failure();
  std::optional<core::Instant> reset;
  for (const core::ServiceEntry& entry : *services) {
    if (entry.counter_reset) reset = entry.done_at;
  }
  return reset;
}

struct CounterCheck final {
  int gap = 0;
};

Result<CounterCheck> check_counter(const port::Unit& unit, const core::LoadName& name, int counter) {
  const auto recent = unit.loads().newest_of(name.sterilizer, 1000);
  if (!recent) return recent.failure();
  const auto reset = counter_reset_at(unit, name.sterilizer);
  if (!reset) return reset.failure();
  const auto counts = [&](const core::Load& load) {
    return load.machine_counter && load.name != name &&
           (!*reset || (load.finished_at && *load.finished_at > **reset));
  };
  int last = 0;
  for (const core::Load& load : *recent) {
    if (counts(load)) last = std::max(last, *load.machine_counter);
  }
  const auto same = unit.loads().with_counter(name.sterilizer, counter);
  if (!same) return same.failure();
  if ((*same && counts(**same)) || counter <= last) {
    return Failure{FailureCode::CounterRepeated,
                   {{"counter", std::to_string(counter)}, {"last", std::to_string(last)}},
                   {}};
  }
  return CounterCheck{last == 0 ? 0 : counter - last - 1};
}

struct Tests final {
  int run = 1;  // of the load that is about to start
  core::DailyTest standing = core::DailyTest::NotAsked;
};

// SterilizerTestFailed for a load with packages after a failed test.
Result<Tests> tests_for(const Act& act, const core::Load& load, const core::Sterilizer& sterilizer) {
  const auto highest = act.unit->loads().highest_run(sterilizer.code);
  if (!highest) return highest.failure();
  Tests tests{*highest + 1, core::DailyTest::NotAsked};
  if (!is_for_packages(load.purpose)) return tests;
  const auto profile = profile_in_force(*act.unit, act.office);
  if (!profile) return profile.failure();
  const auto standing = daily_test_before(*act.unit, *profile, sterilizer, act.today, tests.run);
  if (!standing) return standing.failure();
  tests.standing = *standing;
  if (*standing != core::DailyTest::Failed) return tests;
  return Failure{FailureCode::SterilizerTestFailed, {{"sterilizer", sterilizer.code}}, {}};
}

}  // namespace

Result<core::Load> open_load(const Ports& ports, const OpenLoadRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  const auto sterilizer = sterilizer_for(*act->unit, request.sterilizer, request.purpose);
  if (!sterilizer) return sterilizer.failure();
  const auto program = runnable_program(*act->unit, *sterilizer, request.program);
  if (!program) return program.failure();
  const auto incident = incident_of(*act->unit, request);
  if (!incident) return incident.failure();
  const auto name = name_to_open(*act->unit, request);
  if (!name) return name.failure();
  const auto number = number_for_labels(*act, *name);
  if (!number) return number.failure();
  auto load = moved(number->load, LoadMove::Open);
  if (!load) return load;
  load->program = request.program;
  load->purpose = request.purpose;
  load->retest_of = *incident;
  load->opened_at = act->now;
  return write_load(*act, EventKind::LoadOpened, *load);
}

Result<core::Load> add_to_load(const Ports& ports, const LoadPackagesRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  auto load = open_for_filling(*act->unit, request.load);
  if (!load) return load;
  if (load->purpose != core::LoadPurpose::Process) {
    return Failure{FailureCode::LoadTakesNoPackages, {{"load", load->name.text()}}, {}};
  }
  auto packages = find_packages(ports, *act->unit, request.packages);
  if (!packages) return packages.failure();
  if (const auto ok = check_loose(*act->unit, request.loose_items); !ok) return ok.failure();
  if (const auto ok = refuse_other_labels(load->name, act->today, *packages); !ok) return ok.failure();
  if (const auto ok = refuse_for_type_n(*act->unit, *load, *packages, request.loose_items); !ok) {
    return ok.failure();
  }
  std::vector<core::Record> records;
  for (core::Package& package : *packages) {
    const auto state = core::after(package.state, core::PackageMove::AddToLoad);
    if (!state) return wrong_state(package);
    package.state = *state;
    records.emplace_back(package);
  }
  load->loose_items.insert(load->loose_items.end(), request.loose_items.begin(), request.loose_items.end());
  return write_load(*act, EventKind::PackagesAdded, *load, std::move(records));
}

Result<core::Load> remove_from_load(const Ports& ports, const LoadPackagesRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  auto load = open_for_filling(*act->unit, request.load);
  if (!load) return load;
  auto packages = find_packages(ports, *act->unit, request.packages);
  if (!packages) return packages.failure();
  std::vector<core::Record> records;
  for (core::Package& package : *packages) {
    const auto state = core::after(package.state, core::PackageMove::TakeFromLoad);
    if (!state || package.load != load->name) return wrong_state(package);
    package.state = *state;
    records.emplace_back(package);
  }
  return write_load(*act, EventKind::PackagesRemoved, *load, std::move(records));
}

Result<StartLoadReply> start_load(const Ports& ports, const LoadRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  if (const auto ok = refuse_while_behind(*act); !ok) return ok.failure();
  auto found = find_load(*act->unit, request.load);
  if (!found) return found.failure();
  auto load = moved(*found, LoadMove::Start);
  if (!load) return load.failure();
  const auto sterilizer = sterilizer_for(*act->unit, load->name.sterilizer, load->purpose);
  if (!sterilizer) return sterilizer.failure();
  const auto tests = tests_for(*act, *load, *sterilizer);
  if (!tests) return tests.failure();
  const auto packages = packages_aboard(*act->unit, load->name);
  if (!packages) return packages.failure();
  if (load->purpose == core::LoadPurpose::Process && packages->empty() && load->loose_items.empty()) {
    return Failure{FailureCode::LoadEmpty, {{"load", load->name.text()}}, {}};
  }
  if (const auto ok = refuse_other_labels(load->name, act->today, *packages); !ok) return ok.failure();
  if (const auto ok = refuse_for_type_n(*act->unit, *load, *packages, load->loose_items); !ok) {
    return ok.failure();
  }
  const auto implant = holds_implant(*act->unit, *packages, load->loose_items);
  if (!implant) return implant.failure();
  load->implant_aboard = *implant;
  load->started_at = act->now;
  load->process_date = act->today;
  load->run = tests->run;
  const auto written = write_load(*act, EventKind::LoadStarted, *load);
  if (!written) return written.failure();
  return StartLoadReply{*written, tests->standing};
}

Result<FinishLoadReply> finish_load(const Ports& ports, const FinishLoadRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  const auto found = find_load(*act->unit, request.load);
  if (!found) return found.failure();
  const bool aborted = !request.aborted_why.empty();
  auto load = moved(*found, aborted ? LoadMove::Abort : LoadMove::Finish);
  if (!load) return load.failure();
  CounterCheck counter;
  if (request.counter) {
    const auto checked = check_counter(*act->unit, load->name, *request.counter);
    if (!checked) return checked.failure();
    counter = *checked;
  }
  load->finished_at = act->now;
  load->machine_counter = request.counter;
  load->abort_reason = request.aborted_why;
  auto written = write_load(*act, aborted ? EventKind::LoadAborted : EventKind::LoadFinished, *load, {},
                            {{"counter-gap", std::to_string(counter.gap)}});
  if (!written) return written.failure();
  return FinishLoadReply{*written, counter.gap};
}

}  // namespace loadlight::app
