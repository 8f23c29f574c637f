#include "loadlight/core/package_rules.h"

namespace loadlight::core {
namespace {

Finding yes_if(bool condition) { return condition ? Finding::Yes : Finding::No; }

Finding fact(const std::optional<bool>& condition) {
  return condition ? yes_if(*condition) : Finding::Missing;
}

bool names_a_package(const PackageFacts& f) {
  return f.seen == Seen::PackageLabel || f.seen == Seen::TypedId || f.seen == Seen::Matched;
}

// The record is asked about a package only where the label that names it is ours.
bool record_speaks(const PackageFacts& f) {
  return names_a_package(f) && f.in_record.value_or(false) &&
         (f.seen != Seen::PackageLabel || f.authentic.value_or(false));
}

// A rule about the package's row: does not apply where the record has nothing to say.
template <class Rule>
Finding of_package(const PackageFacts& f, Rule rule) {
  if (!record_speaks(f)) return Finding::No;
  return f.package ? rule(*f.package) : Finding::Missing;
}

// A rule about the load's row. A package that no load holds has nothing to ask its load.
template <class Rule>
Finding of_load(const PackageFacts& f, Rule rule) {
  if (!record_speaks(f)) return Finding::No;
  if (!f.package) return Finding::Missing;
  if (f.package->state == PackageState::Labelled) return Finding::No;
  return f.load ? rule(*f.load) : Finding::Missing;
}

Finding package_is(const PackageFacts& f, PackageState state) {
  return of_package(f, [state](const PackageOnRecord& p) { return yes_if(p.state == state); });
}

Finding load_is(const PackageFacts& f, LoadState state) {
  return of_load(f, [state](const LoadOnRecord& l) { return yes_if(l.state == state); });
}

Finding not_authentic(const PackageFacts& f) {
  if (f.seen != Seen::PackageLabel) return Finding::No;
  return f.authentic ? yes_if(!*f.authentic) : Finding::Missing;
}

Finding unknown(const PackageFacts& f) {
  if (!names_a_package(f)) return Finding::No;
  if (f.seen == Seen::PackageLabel && !f.authentic.value_or(false)) return Finding::No;
  return f.in_record ? yes_if(!*f.in_record) : Finding::Missing;
}

Finding mismatch(const PackageFacts& f) {
  return of_package(f, [&f](const PackageOnRecord& p) {
    const bool ran_another_day =
        f.load && f.load->process_date && *f.load->process_date != p.process_date;
    // Run on a day that has not come yet, by a clock that stood ahead; unless it is today's clock that is wrong.
    const bool ran_ahead = f.clock_behind == false && f.load && f.load->process_date && f.today &&
                           *f.today < *f.load->process_date;
    return yes_if(p.label_differs_from_issue ||
                  ((ran_another_day || ran_ahead) && p.state != PackageState::Labelled));
  });
}

Finding not_started(const PackageFacts& f) {
  return of_load(f, [](const LoadOnRecord& l) {
    return yes_if(is_before_start(l.state));
  });
}

Finding past_use_by(const PackageFacts& f) {
  return of_package(f, [&f](const PackageOnRecord& p) {
    if (!f.today) return Finding::Missing;
    return yes_if((p.use_by && *f.today > *p.use_by) ||
                  (p.last_day_by_profile && *f.today > *p.last_day_by_profile));
  });
}

struct PackageRule final {
  Reason reason;
  Finding (*finds)(const PackageFacts&);
};

// When each reason applies.
constexpr PackageRule kRules[] = {
    {Reason::NotAPackageLabel, [](const PackageFacts& f) { return yes_if(f.seen == Seen::Nothing); }},
    {Reason::LabelNotRead, [](const PackageFacts& f) { return yes_if(f.seen == Seen::Matched); }},
    {Reason::LabelVersionUnknown, [](const PackageFacts& f) { return yes_if(f.seen == Seen::LaterForm); }},
    {Reason::ChartCopy, [](const PackageFacts& f) { return yes_if(f.seen == Seen::ChartCopy); }},
    {Reason::OldLabelInView, [](const PackageFacts& f) { return fact(f.old_label_beside); }},
    {Reason::RecordUnreachable,
     [](const PackageFacts& f) { return yes_if(f.record == RecordState::Unreachable); }},
    {Reason::RecordDamaged, [](const PackageFacts& f) { return yes_if(f.record == RecordState::Damaged); }},
    {Reason::ClockBehindRecord, [](const PackageFacts& f) { return fact(f.clock_behind); }},
    {Reason::LabelNotAuthentic, not_authentic},
    {Reason::PackageUnknown, unknown},
    {Reason::LabelRecordMismatch, mismatch},
    {Reason::LabelVoid, [](const PackageFacts& f) { return package_is(f, PackageState::Void); }},
    {Reason::NeverInALoad, [](const PackageFacts& f) { return package_is(f, PackageState::Labelled); }},
    {Reason::AlreadyOpened, [](const PackageFacts& f) { return package_is(f, PackageState::Opened); }},
    {Reason::Withdrawn, [](const PackageFacts& f) { return package_is(f, PackageState::Withdrawn); }},
    {Reason::PackageRecalled,
     [](const PackageFacts& f) {
       return of_package(f, [](const PackageOnRecord& p) { return yes_if(p.recalled); });
     }},
    {Reason::PastUseBy, past_use_by},
    {Reason::LoadNotStarted, not_started},
    {Reason::LoadRunning, [](const PackageFacts& f) { return load_is(f, LoadState::Running); }},
    {Reason::LoadOverdue,
     [](const PackageFacts& f) {
       return of_load(f, [](const LoadOnRecord& l) {
         return yes_if(l.state == LoadState::Running && l.overdue);
       });
     }},
    {Reason::LoadNotReleased, [](const PackageFacts& f) { return load_is(f, LoadState::Finished); }},
    {Reason::LoadQuarantined, [](const PackageFacts& f) { return load_is(f, LoadState::Quarantined); }},
    {Reason::LoadAborted, [](const PackageFacts& f) { return load_is(f, LoadState::Aborted); }},
    {Reason::LoadFailed, [](const PackageFacts& f) { return load_is(f, LoadState::Failed); }},
    {Reason::LoadRecalled, [](const PackageFacts& f) { return load_is(f, LoadState::Recalled); }},
    {Reason::ReleaseRevoked, [](const PackageFacts& f) { return load_is(f, LoadState::Revoked); }},
    {Reason::IncidentOpen,
     [](const PackageFacts& f) {
       return of_load(f, [](const LoadOnRecord& l) { return yes_if(l.in_open_incident); });
     }},
};

// The last word before Clear, in positive terms: a release of the load that a package in it can stand on.
// It repeats nothing above in effect; it catches a state that some later change forgets to list.
bool stands_on_a_release(const PackageFacts& f) {
  return record_speaks(f) && f.package && f.package->state == PackageState::Loaded && f.load &&
         f.load->state == LoadState::Released && f.load->process_date && f.today &&
         f.record == RecordState::Whole;
}

}  // namespace

Verdict judge_package(const PackageFacts& facts) {
  Judge judge{facts.record == RecordState::Unreachable ? Reason::RecordUnreachable
                                                      : Reason::RecordDamaged};
  for (const PackageRule& rule : kRules) judge.hear(rule.reason, rule.finds(facts));
  const Verdict verdict = judge.verdict();
  if (verdict.outcome() == Outcome::Clear && !stands_on_a_release(facts)) return Verdict::against({});
  return verdict;
}

}  // namespace loadlight::core
