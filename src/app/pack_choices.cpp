#include "loadlight/app/pack_choices.h"

#include <algorithm>
#include <map>
#include <set>

#include "app/label_run.h"
#include "app/load_moves.h"
#include "loadlight/app/package_reference.h"

namespace loadlight::app {
namespace {

using core::Result;

struct Day final {
  core::Office office;
  core::CivilDate today;
};

// What the latest print runs say, newest first.
struct Lately final {
  std::map<std::string, ContentsChoice> by_contents;
  std::vector<std::string> sterilizers;
};

void add_run(Lately& lately, const std::vector<core::Package>& packages) {
  std::set<std::string> in_this_run;
  for (const core::Package& package : packages) {
    ContentsChoice& choice = lately.by_contents[package.contents];
    if (choice.usual_kind.empty()) choice.usual_kind = package.kind;
    if (in_this_run.insert(package.contents).second) ++choice.lately;
  }
  if (!packages.empty()) lately.sterilizers.push_back(packages.front().load.sterilizer);
}

Result<Lately> look_back(const port::Unit& unit) {
  const auto highest = unit.print_runs().highest_number();
  if (!highest) return highest.failure();
  Lately lately;
  for (int run = *highest; run > 0 && run > *highest - kRunsLookedAt; --run) {
    const auto packages = unit.packages().of_print_run(run);
    if (!packages) return packages.failure();
    add_run(lately, *packages);
  }
  return lately;
}

Result<std::vector<ContentsChoice>> contents_of(const port::Unit& unit, const Lately& lately) {
  const auto all = unit.contents().all();
  if (!all) return all.failure();
  std::vector<ContentsChoice> choices;
  for (const core::Contents& each : *all) {
    if (each.retired_on) continue;
    const auto known = lately.by_contents.find(each.code);
    ContentsChoice choice = known == lately.by_contents.end() ? ContentsChoice{} : known->second;
    choice.contents = each;
    choices.push_back(std::move(choice));
  }
  std::sort(choices.begin(), choices.end(), [](const ContentsChoice& a, const ContentsChoice& b) {
    if (a.lately != b.lately) return a.lately > b.lately;
    return a.contents.name < b.contents.name;
  });
  return choices;
}

Result<std::vector<core::PackageKind>> kinds_of(const port::Unit& unit) {
  auto kinds = unit.kinds().all();
  if (!kinds) return kinds;
  std::erase_if(*kinds, [](const core::PackageKind& kind) {
    return kind.retired_on.has_value() || !core::is_wrapped(kind.wrapping);
  });
  return kinds;
}

Result<int> labelled_for(const port::Unit& unit, const core::LoadName& load) {
  const auto packages = unit.packages().of_load(load);
  if (!packages) return packages.failure();
  return static_cast<int>(std::count_if(packages->begin(), packages->end(), [](const core::Package& package) {
    return package.state != core::PackageState::Void;
  }));
}

// Of a sterilizer whose items are packed after their program: what it ran today.
Result<void> add_late_loads(const port::Unit& unit, const Day& day, const std::string& sterilizer,
                            std::vector<LoadChoice>& choices) {
  const auto loads = unit.loads().of_day(sterilizer, day.today);
  if (!loads) return loads.failure();
  for (const core::Load& load : *loads) {
    const auto takes = takes_late_labels(unit, day.office, day.today, load);
    if (!takes) return takes.failure();
    if (!*takes || load.purpose != core::LoadPurpose::Process) continue;
    const auto labelled = labelled_for(unit, load.name);
    if (!labelled) return labelled.failure();
    choices.push_back({load.name, load.state, *labelled});
  }
  return {};
}

Result<std::vector<LoadChoice>> loads_of(const port::Unit& unit, const Day& day, const std::string& sterilizer) {
  std::vector<LoadChoice> choices;
  if (const auto ok = add_late_loads(unit, day, sterilizer, choices); !ok) return ok.failure();
  for (const core::LoadState state : {core::LoadState::Open, core::LoadState::Reserved}) {
    const auto loads = unit.loads().in_state(state);
    if (!loads) return loads.failure();
    for (const core::Load& load : *loads) {
      if (load.name.sterilizer != sterilizer || load.purpose != core::LoadPurpose::Process) continue;
      const auto labelled = labelled_for(unit, load.name);
      if (!labelled) return labelled.failure();
      choices.push_back({load.name, state, *labelled});
    }
  }
  const auto highest = unit.loads().highest_number(sterilizer);
  if (!highest) return highest.failure();
  choices.push_back({core::LoadName{sterilizer, *highest + 1}, std::nullopt, 0});
  return choices;
}

// How long ago a sterilizer was last printed for, in print runs.
auto age_of(const Lately& lately, const core::Sterilizer& sterilizer) {
  return std::find(lately.sterilizers.begin(), lately.sterilizers.end(), sterilizer.code) -
         lately.sterilizers.begin();
}

Result<std::vector<SterilizerChoice>> sterilizers_of(const port::Unit& unit, const Day& day,
                                                     const Lately& lately) {
  const auto all = unit.sterilizers().all();
  if (!all) return all.failure();
  std::vector<SterilizerChoice> choices;
  for (const core::Sterilizer& each : *all) {
    if (each.retired_on || !each.in_service) continue;
    auto loads = loads_of(unit, day, each.code);
    if (!loads) return loads.failure();
    choices.push_back({each, std::move(*loads)});
  }
  std::stable_sort(choices.begin(), choices.end(), [&](const SterilizerChoice& a, const SterilizerChoice& b) {
    return age_of(lately, a.sterilizer) < age_of(lately, b.sterilizer);
  });
  return choices;
}

Result<std::vector<core::LabelStock>> stocks_of(const port::Unit& unit) {
  auto stocks = unit.stocks().all();
  if (!stocks) return stocks;
  std::erase_if(*stocks, [](const core::LabelStock& stock) {
    return stock.retired_on.has_value() || !goes_through_steam(stock);
  });
  return stocks;
}

}  // namespace

Result<PackChoices> pack_choices(const Ports& ports) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto office = (*unit)->office();
  if (!office) return office.failure();
  const auto lately = look_back(**unit);
  if (!lately) return lately.failure();
  auto contents = contents_of(**unit, *lately);
  if (!contents) return contents.failure();
  auto kinds = kinds_of(**unit);
  if (!kinds) return kinds.failure();
  auto sterilizers = sterilizers_of(**unit, {*office, ports.zone.local_date(ports.clock.now())}, *lately);
  if (!sterilizers) return sterilizers.failure();
  auto stocks = stocks_of(**unit);
  if (!stocks) return stocks.failure();
  return PackChoices{std::move(*contents), std::move(*kinds), std::move(*sterilizers), std::move(*stocks)};
}

Result<std::optional<int>> last_cell_of(const Ports& ports, const std::string& template_name) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto highest = (*unit)->print_runs().highest_number();
  if (!highest) return highest.failure();
  for (int number = *highest; number > 0 && number > *highest - kRunsLookedAt; --number) {
    const auto run = (*unit)->print_runs().find(number);
    if (!run) return run.failure();
    if (!*run || (**run).template_name != template_name) continue;
    const auto packages = (*unit)->packages().of_print_run(number);
    if (!packages) return packages.failure();
    if (!packages->empty()) return std::optional{packages->back().cell};
  }
  return std::optional<int>{};
}

Result<OldLabel> packed_before(const Ports& ports, const std::string& reference) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto found = find_packages(ports, **unit, {reference});
  if (!found) return found.failure();
  const core::Package& package = found->front();
  if (const auto ok = usable_contents(**unit, package.contents); !ok) return ok.failure();
  if (const auto ok = usable_kind(**unit, package.kind); !ok) return ok.failure();
  return OldLabel{package.contents, package.kind};
}

}  // namespace loadlight::app
