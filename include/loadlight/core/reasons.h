// Every reason that can speak against opening a package or releasing a load, and every note.
//
// A reason's weight is its row here; its words and its advice are in templates/words
// ("reason.<code>.text", "reason.<code>.action"); when it applies is in package_rules.cpp or
// release_rules.cpp. Rows stand worst first: that is the order in which a verdict lists them.
#pragma once

#include <string_view>
#include <vector>

namespace loadlight::core {

// From best to worst; the number orders them.
enum class Outcome { Clear = 0, Hold = 1, DoNotUse = 2 };

std::string_view to_text(Outcome outcome);  // "clear", "hold", "do-not-use"

// What a reason is about: a package in somebody's hand, a load up for release, or both.
enum class ReasonScope { Package, Release, Both };

#define LOADLIGHT_REASONS(ROW)                                                             \
  /* enumerator, code, weight, scope */                                                    \
  ROW(LabelNotAuthentic, "label-not-authentic", DoNotUse, Package)                         \
  ROW(PackageUnknown, "package-unknown", DoNotUse, Package)                                \
  ROW(LabelRecordMismatch, "label-record-mismatch", DoNotUse, Package)                     \
  ROW(LabelVoid, "label-void", DoNotUse, Package)                                          \
  ROW(LoadRecalled, "load-recalled", DoNotUse, Package)                                    \
  ROW(PackageRecalled, "package-recalled", DoNotUse, Package)                              \
  ROW(ReleaseRevoked, "release-revoked", DoNotUse, Package)                                \
  ROW(LoadFailed, "load-failed", DoNotUse, Package)                                        \
  ROW(LoadAborted, "load-aborted", DoNotUse, Both)                                         \
  ROW(NeverInALoad, "never-in-a-load", DoNotUse, Package)                                  \
  ROW(LoadNotStarted, "load-not-started", DoNotUse, Package)                               \
  ROW(AlreadyOpened, "already-opened", DoNotUse, Package)                                  \
  ROW(Withdrawn, "withdrawn", DoNotUse, Package)                                           \
  ROW(PastUseBy, "past-use-by", DoNotUse, Package)                                         \
  ROW(BiologicalPositive, "biological-positive", DoNotUse, Release)                        \
  ROW(ProgramNotAllowed, "program-not-allowed", DoNotUse, Release)                         \
  ROW(ExposureShort, "exposure-short", DoNotUse, Release)                                  \
  ROW(ExternalIndicatorFailed, "external-indicator-failed", DoNotUse, Release)             \
  ROW(DailyTestFailed, "daily-test-failed", DoNotUse, Release)                             \
  ROW(SterilizerOutOfService, "sterilizer-out-of-service", DoNotUse, Release)              \
  ROW(RecordUnreachable, "record-unreachable", Hold, Both)                                 \
  ROW(RecordDamaged, "record-damaged", Hold, Both)                                         \
  ROW(ClockBehindRecord, "clock-behind-record", Hold, Both)                                \
  ROW(NotAPackageLabel, "not-a-package-label", Hold, Package)                              \
  ROW(LabelNotRead, "label-not-read", Hold, Package)                                       \
  ROW(LabelVersionUnknown, "label-version-unknown", Hold, Package)                         \
  ROW(ChartCopy, "chart-copy", Hold, Package)                                              \
  ROW(OldLabelInView, "old-label-in-view", Hold, Package)                                  \
  ROW(IncidentOpen, "incident-open", Hold, Both)                                           \
  ROW(LoadQuarantined, "load-quarantined", Hold, Package)                                  \
  ROW(LoadOverdue, "load-overdue", Hold, Package)                                          \
  ROW(LoadRunning, "load-running", Hold, Both)                                             \
  ROW(LoadNotReleased, "load-not-released", Hold, Package)                                 \
  ROW(MechanicalEvidenceMissing, "mechanical-evidence-missing", Hold, Release)             \
  ROW(MechanicalEvidenceIncomplete, "mechanical-evidence-incomplete", Hold, Release)       \
  ROW(ExternalIndicatorUnread, "external-indicator-unread", Hold, Release)                 \
  ROW(SteamNotSaturated, "steam-not-saturated", Hold, Release)                             \
  ROW(TemperatureAboveBand, "temperature-above-band", Hold, Release)                       \
  ROW(DryingShort, "drying-short", Hold, Release)                                          \
  ROW(WetPackages, "wet-packages", Hold, Release)                                          \
  ROW(ConsumableExpired, "consumable-expired", Hold, Release)                              \
  ROW(ConsumableRecalled, "consumable-recalled", Hold, Release)                            \
  ROW(DailyTestMissing, "daily-test-missing", Hold, Release)                               \
  ROW(BiologicalInvalid, "biological-invalid", Hold, Release)                              \
  ROW(BiologicalAwaited, "biological-awaited", Hold, Release)

enum class Reason {
#define ROW(name, text, weight, scope) name,
  LOADLIGHT_REASONS(ROW)
#undef ROW
};

std::string_view to_text(Reason reason);
Outcome weight_of(Reason reason);
ReasonScope scope_of(Reason reason);
std::vector<Reason> all_reasons();  // worst first

// Notes inform and never change an outcome; words under "note.<code>.text".
#define LOADLIGHT_NOTES(ROW)                               \
  ROW(ReleasedAsEmergency, "released-as-emergency")        \
  ROW(BiologicalPending, "biological-pending")             \
  ROW(BiologicalOverdue, "biological-overdue")             \
  ROW(NearUseBy, "near-use-by")                            \
  ROW(DateInDoubt, "date-in-doubt")                        \
  ROW(OlderOneElsewhere, "older-one-elsewhere")            \
  ROW(CompareByEye, "compare-by-eye")                      \
  ROW(AboveBand, "above-band")                             \
  ROW(TemperatureUnsteady, "temperature-unsteady")         \
  ROW(LogHasGaps, "log-has-gaps")                          \
  ROW(ProgramBelowTable, "program-below-table")            \
  ROW(ReleasedByIndicator, "released-by-indicator")        \
  ROW(LocalCopy, "local-copy")                             \
  ROW(CheckWithEyes, "check-with-eyes")

enum class Note {
#define ROW(name, text) name,
  LOADLIGHT_NOTES(ROW)
#undef ROW
};

std::string_view to_text(Note note);
std::vector<Note> all_notes();

}  // namespace loadlight::core
