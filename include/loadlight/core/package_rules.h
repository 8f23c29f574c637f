// May this package be opened? The facts are fetched by the use case; the rules, one row a reason, are in
// package_rules.cpp.
#pragma once

#include <optional>

#include "loadlight/core/dates.h"
#include "loadlight/core/load.h"
#include "loadlight/core/package.h"
#include "loadlight/core/verdict.h"

namespace loadlight::core {

// What was in view or typed.
enum class Seen {
  Nothing,       // no symbol, or a text that is not ours
  LaterForm,     // a label of a later form
  ChartCopy,     // the copy from a patient's chart
  PackageLabel,  // a package's label
  TypedId,       // a well-typed package id
  Matched,       // a damaged symbol, told by what the record expects: which package, and no more
};

enum class RecordState { Whole, Unreachable, Damaged };

// What the record says of the package that was named.
struct PackageOnRecord final {
  PackageState state = PackageState::Labelled;
  bool recalled = false;
  // Does the label's text differ from the one issued? No fact for a typed id, where there is no text.
  bool label_differs_from_issue = false;
  CivilDate process_date;                        // as issued
  // The last days, counted from the earliest day that its load may have been run on: as issued, unless the
  // clock stood ahead then (clock_doubt.h).
  std::optional<CivilDate> use_by;               // none: event-related
  std::optional<CivilDate> last_day_by_profile;  // none: the profile sets no cap
};

// What the record says of the load its label names.
struct LoadOnRecord final {
  LoadState state = LoadState::Reserved;
  std::optional<CivilDate> process_date;  // the day it was started on; none before
  bool overdue = false;                   // running longer than its program can
  bool in_open_incident = false;
};

// An absent optional is a fact that could not be had: it holds.
struct PackageFacts final {
  Seen seen = Seen::Nothing;
  RecordState record = RecordState::Damaged;
  std::optional<bool> authentic;        // of the label; ask of PackageLabel only
  std::optional<bool> old_label_beside; // a second package's label on the same package
  std::optional<bool> in_record;        // is there such a package?
  std::optional<PackageOnRecord> package;
  std::optional<LoadOnRecord> load;
  std::optional<bool> clock_behind;
  std::optional<CivilDate> today;
};

Verdict judge_package(const PackageFacts& facts);

}  // namespace loadlight::core
