#include "core/package_oracle.h"

namespace loadlight::core {
namespace {

const std::optional<bool> kAnswers[] = {std::nullopt, false, true};
const Seen kSights[] = {Seen::Nothing,      Seen::LaterForm, Seen::ChartCopy,
                        Seen::PackageLabel, Seen::TypedId,   Seen::Matched};
const RecordState kRecords[] = {RecordState::Whole, RecordState::Unreachable, RecordState::Damaged};

// The reason of each state of a load; Released has none.
std::optional<Reason> reason_of_load(LoadState state) {
  if (state == LoadState::Reserved || state == LoadState::Open) return Reason::LoadNotStarted;
  if (state == LoadState::Running) return Reason::LoadRunning;
  if (state == LoadState::Finished) return Reason::LoadNotReleased;
  if (state == LoadState::Quarantined) return Reason::LoadQuarantined;
  if (state == LoadState::Failed) return Reason::LoadFailed;
  if (state == LoadState::Aborted) return Reason::LoadAborted;
  if (state == LoadState::Revoked) return Reason::ReleaseRevoked;
  if (state == LoadState::Recalled) return Reason::LoadRecalled;
  return std::nullopt;
}

void add_row_reasons(const PackageFacts& f, const PackageOnRecord& p, ReasonSet& set, bool& missing) {
  if (p.state == PackageState::Void) add(set, Reason::LabelVoid);
  if (p.state == PackageState::Labelled) add(set, Reason::NeverInALoad);
  if (p.state == PackageState::Opened) add(set, Reason::AlreadyOpened);
  if (p.state == PackageState::Withdrawn) add(set, Reason::Withdrawn);
  if (p.recalled) add(set, Reason::PackageRecalled);
  if (p.label_differs_from_issue) add(set, Reason::LabelRecordMismatch);
  if (!f.today) {
    missing = true;
    return;
  }
  // The day on the label and the profile's last day still count as in date.
  const CivilDate yesterday = f.today->plus_days(-1);
  if (p.use_by && *p.use_by <= yesterday) add(set, Reason::PastUseBy);
  if (p.last_day_by_profile && *p.last_day_by_profile <= yesterday) add(set, Reason::PastUseBy);
}

void add_load_reasons(const PackageFacts& f, const PackageOnRecord& p, const LoadOnRecord& load, ReasonSet& set) {
  if (const auto reason = reason_of_load(load.state)) add(set, *reason);
  if (load.state == LoadState::Running && load.overdue) add(set, Reason::LoadOverdue);
  if (load.in_open_incident) add(set, Reason::IncidentOpen);
  if (load.process_date && *load.process_date != p.process_date) add(set, Reason::LabelRecordMismatch);
  // Nothing was run tomorrow; by a clock that is behind it may look so.
  if (f.clock_behind == false && load.process_date && f.today && f.today->days_until(*load.process_date) > 0) {
    add(set, Reason::LabelRecordMismatch);
  }
}

bool names_a_package(const PackageFacts& f) {
  return f.seen == Seen::PackageLabel || f.seen == Seen::TypedId || f.seen == Seen::Matched;
}

// What the record says of the package, once its label is known to be ours.
void add_record_reasons(const PackageFacts& f, ReasonSet& set, bool& missing) {
  if (!f.in_record) {
    missing = true;
  } else if (!*f.in_record) {
    add(set, Reason::PackageUnknown);
  } else if (!f.package) {
    missing = true;
  } else {
    add_row_reasons(f, *f.package, set, missing);
    if (f.package->state == PackageState::Labelled) return;
    if (!f.load) missing = true;
    if (f.load) add_load_reasons(f, *f.package, *f.load, set);
  }
}

}  // namespace

CivilDate walk_today() {
  return *CivilDate::from(2028, 2, 29);
}

ReasonSet expected_reasons(const PackageFacts& f) {
  ReasonSet set;
  bool missing = !f.old_label_beside || !f.clock_behind;
  if (f.seen == Seen::Nothing) add(set, Reason::NotAPackageLabel);
  if (f.seen == Seen::LaterForm) add(set, Reason::LabelVersionUnknown);
  if (f.seen == Seen::ChartCopy) add(set, Reason::ChartCopy);
  if (f.seen == Seen::Matched) add(set, Reason::LabelNotRead);
  if (f.old_label_beside == true) add(set, Reason::OldLabelInView);
  if (f.record == RecordState::Unreachable) add(set, Reason::RecordUnreachable);
  if (f.record == RecordState::Damaged) add(set, Reason::RecordDamaged);
  if (f.clock_behind == true) add(set, Reason::ClockBehindRecord);
  if (f.seen == Seen::PackageLabel && !f.authentic) missing = true;
  if (f.seen == Seen::PackageLabel && f.authentic == false) add(set, Reason::LabelNotAuthentic);
  if (names_a_package(f) && (f.seen != Seen::PackageLabel || f.authentic == true)) {
    add_record_reasons(f, set, missing);
  }
  // A missing fact is a reason; so is a release without the day that its load ran.
  if (set.none() && !every_fact_is_present(f)) missing = true;
  if (missing) {
    add(set, f.record == RecordState::Unreachable ? Reason::RecordUnreachable : Reason::RecordDamaged);
  }
  return set;
}

bool every_fact_is_present(const PackageFacts& f) {
  return names_a_package(f) && (f.seen != Seen::PackageLabel || f.authentic) && f.old_label_beside &&
         f.in_record && f.package && f.load && f.load->process_date && f.clock_behind && f.today;
}

namespace {

PackageOnRecord row(PackageState state, std::optional<CivilDate> use_by = {},
                    std::optional<CivilDate> cap = {}) {
  return {state, false, false, walk_today(), use_by, cap};
}

LoadOnRecord load_row(LoadState state) {
  return {state, walk_today(), false, false};
}

const PackageState kPackageStates[] = {PackageState::Labelled, PackageState::Loaded, PackageState::Opened,
                                       PackageState::Withdrawn, PackageState::Void};
const LoadState kLoadStates[] = {
    LoadState::Reserved, LoadState::Open,   LoadState::Running, LoadState::Finished, LoadState::Quarantined,
    LoadState::Released, LoadState::Failed, LoadState::Aborted, LoadState::Revoked,  LoadState::Recalled};

// None, the day before today, today, and the day after.
std::vector<std::optional<CivilDate>> days_around() {
  return {std::nullopt, walk_today().plus_days(-1), walk_today(), walk_today().plus_days(1)};
}

std::vector<std::optional<PackageOnRecord>> a_few_packages() {
  std::vector<std::optional<PackageOnRecord>> rows{std::nullopt};
  for (PackageState state : kPackageStates) rows.emplace_back(row(state, walk_today()));
  rows.emplace_back(row(PackageState::Loaded, walk_today().plus_days(-1)));
  return rows;
}

std::vector<std::optional<LoadOnRecord>> a_few_loads() {
  std::vector<std::optional<LoadOnRecord>> rows{std::nullopt};
  for (LoadState state : {LoadState::Running, LoadState::Released, LoadState::Recalled}) {
    rows.emplace_back(load_row(state));
  }
  return rows;
}

std::vector<std::optional<PackageOnRecord>> every_package() {
  std::vector<std::optional<PackageOnRecord>> rows{std::nullopt};
  for (PackageState state : kPackageStates) {
    for (const auto& use_by : days_around()) {
      for (const auto& cap : days_around()) {
        for (int flags = 0; flags < 4; ++flags) {
          PackageOnRecord p = row(state, use_by, cap);
          p.recalled = (flags & 1) != 0;
          p.label_differs_from_issue = (flags & 2) != 0;
          rows.emplace_back(p);
        }
      }
    }
  }
  return rows;
}

std::vector<std::optional<LoadOnRecord>> every_load() {
  std::vector<std::optional<LoadOnRecord>> rows{std::nullopt};
  const std::optional<CivilDate> days[] = {std::nullopt, walk_today(), walk_today().plus_days(-1),
                                          walk_today().plus_days(1)};
  for (LoadState state : kLoadStates) {
    for (const auto& day : days) {
      for (int flags = 0; flags < 4; ++flags) {
        rows.emplace_back(LoadOnRecord{state, day, (flags & 1) != 0, (flags & 2) != 0});
      }
    }
  }
  return rows;
}

PackageFacts known(Seen seen) {
  PackageFacts f;
  f.seen = seen;
  f.record = RecordState::Whole;
  if (seen == Seen::PackageLabel) f.authentic = true;
  f.old_label_beside = false;
  f.in_record = true;
  f.clock_behind = false;
  f.today = walk_today();
  return f;
}

void over_a_few(PackageFacts f, const std::function<void(const PackageFacts&)>& visit) {
  for (const auto& package : a_few_packages()) {
    for (const auto& load : a_few_loads()) {
      f.package = package;
      f.load = load;
      visit(f);
    }
  }
}

template <class Work>
void each_answer(Work work) {
  for (const auto& answer : kAnswers) work(answer);
}

template <class T>
void push_if_other(std::vector<PackageFacts>& all, PackageFacts f, T PackageFacts::*member, T value) {
  f.*member = std::move(value);
  all.push_back(std::move(f));
}

}  // namespace

void each_sighting(const std::function<void(const PackageFacts&)>& visit) {
  PackageFacts f;
  f.today = walk_today();
  for (Seen seen : kSights) {
    for (RecordState record : kRecords) {
      f.seen = seen;
      f.record = record;
      each_answer([&](auto authentic) {
        f.authentic = authentic;
        each_answer([&](auto old_label) {
          f.old_label_beside = old_label;
          each_answer([&](auto in_record) {
            f.in_record = in_record;
            each_answer([&](auto behind) {
              f.clock_behind = behind;
              over_a_few(f, visit);
            });
          });
        });
      });
    }
  }
}

void each_record(const std::function<void(const PackageFacts&)>& visit) {
  const auto loads = every_load();
  for (Seen seen : {Seen::PackageLabel, Seen::TypedId, Seen::Matched}) {
    for (const auto& today : {std::optional{walk_today()}, std::optional<CivilDate>{}}) {
      PackageFacts f = known(seen);
      f.today = today;
      for (const auto& package : every_package()) {
        f.package = package;
        for (const auto& load : loads) {
          f.load = load;
          visit(f);
        }
      }
    }
  }
}

std::vector<PackageFacts> made_worse(const PackageFacts& f) {
  std::vector<PackageFacts> worse;
  push_if_other(worse, f, &PackageFacts::old_label_beside, std::optional{true});
  push_if_other(worse, f, &PackageFacts::clock_behind, std::optional{true});
  push_if_other(worse, f, &PackageFacts::record, RecordState::Damaged);
  push_if_other(worse, f, &PackageFacts::record, RecordState::Unreachable);
  if (f.seen == Seen::PackageLabel) {
    push_if_other(worse, f, &PackageFacts::authentic, std::optional{false});
  }
  push_if_other(worse, f, &PackageFacts::in_record, std::optional{false});
  if (f.today) push_if_other(worse, f, &PackageFacts::today, std::optional{f.today->plus_days(1)});
  if (f.package) {
    PackageFacts other = f;
    other.package->recalled = true;
    worse.push_back(other);
    other = f;
    other.package->label_differs_from_issue = true;
    worse.push_back(other);
    other = f;
    other.package->state = PackageState::Withdrawn;
    worse.push_back(other);
  }
  if (f.load) {
    PackageFacts other = f;
    other.load->in_open_incident = true;
    worse.push_back(other);
    other = f;
    other.load->overdue = true;
    worse.push_back(other);
    other = f;
    other.load->process_date = walk_today().plus_days(1);
    worse.push_back(other);
    for (LoadState state : kLoadStates) {
      other = f;
      other.load->state = state;
      if (f.load->state == LoadState::Released) worse.push_back(other);
    }
  }
  return worse;
}

std::vector<PackageFacts> made_poorer(const PackageFacts& f) {
  std::vector<PackageFacts> poorer;
  const auto without = [&](auto member) {
    PackageFacts other = f;
    (other.*member).reset();
    if ((f.*member).has_value()) poorer.push_back(other);
  };
  if (f.seen == Seen::PackageLabel) without(&PackageFacts::authentic);
  without(&PackageFacts::old_label_beside);
  without(&PackageFacts::in_record);
  without(&PackageFacts::package);
  without(&PackageFacts::load);
  without(&PackageFacts::clock_behind);
  without(&PackageFacts::today);
  if (f.load && f.load->process_date) {
    PackageFacts other = f;
    other.load->process_date.reset();
    poorer.push_back(other);
  }
  return poorer;
}

}  // namespace loadlight::core
