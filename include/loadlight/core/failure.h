// Failure: why an operation did not happen. A code that callers test, and named details that fill the
// gaps of the code's sentence in the words catalogue ("failure.<code>.text" and ".action").
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace loadlight::core {

// How a failure weighs at the process's exit (the command contract).
enum class FailureKind {
  Usage,    // exit 2: the request itself was wrong
  Refused,  // exit 20: a rule forbids it
  Failed,   // exit 1: it could not be done; nothing was changed, but for CommitUnknown, which cannot tell
};

// Every failure code: enumerator, stable text code, kind. Words live in templates/words.
#define LOADLIGHT_FAILURES(ROW)                                         \
  /* what was asked for */                                              \
  ROW(WrongUsage, "wrong-usage", Usage)                                 \
  ROW(OperatorMissing, "operator-missing", Usage)                       \
  ROW(BadCode, "bad-code", Usage)                                       \
  ROW(BadValue, "bad-value", Usage)                                     \
  ROW(BadDate, "bad-date", Usage)                                       \
  ROW(BadPackageId, "bad-package-id", Usage)                            \
  ROW(BadLoadName, "bad-load-name", Usage)                              \
  ROW(BadVisitReference, "bad-visit-reference", Usage)                  \
  ROW(BadCsv, "bad-csv", Usage)                                         \
  ROW(BadTemplate, "bad-template", Usage)                               \
  ROW(BadEncoding, "bad-encoding", Usage)                               \
  ROW(TemplateUnknown, "template-unknown", Usage)                       \
  ROW(CellOutsideSheet, "cell-outside-sheet", Usage)                    \
  ROW(ReasonMissing, "reason-missing", Usage)                           \
  ROW(MappingUnknown, "mapping-unknown", Usage)                         \
  ROW(BadMapping, "bad-mapping", Usage)                                 \
  ROW(BadCycleLog, "bad-cycle-log", Usage)                              \
  ROW(PasswordInAddress, "password-in-address", Usage)                  \
  ROW(PinTooWeak, "pin-too-weak", Usage)                                \
  ROW(RequestUnreadable, "request-unreadable", Usage)                   \
  ROW(PageUnknown, "page-unknown", Usage)                               \
  /* what a rule forbids */                                             \
  ROW(OperatorUnknown, "operator-unknown", Refused)                     \
  ROW(OperatorNotCurrent, "operator-not-current", Refused)              \
  ROW(LeadRequired, "lead-required", Refused)                           \
  ROW(ReleaseNeedsLead, "release-needs-lead", Refused)                  \
  ROW(EmergencyNeedsLead, "emergency-needs-lead", Refused)              \
  ROW(LastLead, "last-lead", Refused)                                   \
  ROW(CodeUnknown, "code-unknown", Refused)                             \
  ROW(CodeTaken, "code-taken", Refused)                                 \
  ROW(CodeRetired, "code-retired", Refused)                             \
  ROW(StockDirectThermal, "stock-direct-thermal", Refused)              \
  ROW(StockUnrated, "stock-unrated", Refused)                           \
  ROW(PackingNotAcknowledged, "packing-not-acknowledged", Refused)      \
  ROW(KindTakesNoLabel, "kind-takes-no-label", Refused)                 \
  ROW(ProgramUnknown, "program-unknown", Refused)                       \
  ROW(ProgramNotAllowed, "program-not-allowed", Refused)                \
  ROW(ProgramNotAccepted, "program-not-accepted", Refused)              \
  ROW(SterilizerOutOfService, "sterilizer-out-of-service", Refused)     \
  ROW(LoadUnknown, "load-unknown", Refused)                             \
  ROW(LoadNumberOutOfSequence, "load-number-out-of-sequence", Refused)  \
  ROW(LoadWrongState, "load-wrong-state", Refused)                      \
  ROW(LoadEmpty, "load-empty", Refused)                                 \
  ROW(CycleLogMissing, "cycle-log-missing", Refused)                    \
  ROW(LoadTakesNoPackages, "load-takes-no-packages", Refused)           \
  ROW(CounterRepeated, "counter-repeated", Refused)                     \
  ROW(ResultDiffers, "result-differs", Refused)                         \
  ROW(IndicatorUnknown, "indicator-unknown", Refused)                   \
  ROW(IndicatorUnfit, "indicator-unfit", Refused)                       \
  ROW(IndicatorStatesAnother, "indicator-states-another", Refused)      \
  ROW(SterilizerTestFailed, "sterilizer-test-failed", Refused)          \
  ROW(IncidentUnknown, "incident-unknown", Refused)                     \
  ROW(IncidentEnded, "incident-ended", Refused)                         \
  ROW(StepNotDue, "step-not-due", Refused)                              \
  ROW(IncidentUnfinished, "incident-unfinished", Refused)               \
  ROW(ReturnNotAllowed, "return-not-allowed", Refused)                  \
  ROW(NotSuspect, "not-suspect", Refused)                               \
  ROW(PackageUnknown, "package-unknown", Refused)                       \
  ROW(PackageWrongState, "package-wrong-state", Refused)                \
  ROW(LabelsNameAnother, "labels-name-another", Refused)                \
  ROW(LabelNotAuthentic, "label-not-authentic", Refused)                \
  ROW(FieldDoesNotFit, "field-does-not-fit", Refused)                   \
  ROW(GlyphMissing, "glyph-missing", Refused)                           \
  ROW(SymbolDoesNotFit, "symbol-does-not-fit", Refused)                 \
  ROW(QuietZoneTooSmall, "quiet-zone-too-small", Refused)               \
  ROW(OfficeExists, "office-exists", Refused)                           \
  ROW(NotOpenable, "not-openable", Refused)                             \
  ROW(ClockBehindRecord, "clock-behind-record", Refused)                \
  ROW(SignInNeeded, "sign-in-needed", Refused)                          \
  ROW(PinNeeded, "pin-needed", Refused)                                 \
  ROW(PinWrong, "pin-wrong", Refused)                                   \
  ROW(PinWait, "pin-wait", Refused)                                     \
  ROW(PinLocked, "pin-locked", Refused)                                 \
  ROW(PinMissing, "pin-missing", Refused)                               \
  ROW(BadgeNotAuthentic, "badge-not-authentic", Refused)                \
  ROW(ShelfTagNotAuthentic, "shelf-tag-not-authentic", Refused)         \
  ROW(FormStale, "form-stale", Refused)                                 \
  ROW(BodyTooLarge, "body-too-large", Refused)                          \
  ROW(TooManyRequests, "too-many-requests", Refused)                    \
  ROW(RecordAltered, "record-altered", Refused)                         \
  ROW(OnThisMachineOnly, "on-this-machine-only", Refused)               \
  ROW(OfficeNotShared, "office-not-shared", Refused)                    \
  ROW(StationNotJoined, "station-not-joined", Refused)                  \
  ROW(JoinCodeWrong, "join-code-wrong", Refused)                        \
  ROW(NoLocalCopy, "no-local-copy", Refused)                            \
  /* what the world did not allow */                                    \
  ROW(OfficeAbsent, "office-absent", Failed)                            \
  ROW(OfficeUnreadable, "office-unreadable", Failed)                    \
  ROW(OfficeNewer, "office-newer", Failed)                              \
  ROW(OfficeOlder, "office-older", Failed)                              \
  ROW(OfficeMoved, "office-moved", Failed)                              \
  ROW(OfficeArriving, "office-arriving", Failed)                        \
  ROW(RecordsDiffer, "records-differ", Failed)                          \
  ROW(OfficeBusy, "office-busy", Failed)                                \
  ROW(ChangedMeanwhile, "changed-meanwhile", Failed)                    \
  ROW(CommitUnknown, "commit-unknown", Failed)                          \
  ROW(OfficeReadOnly, "office-read-only", Failed)                       \
  ROW(DiskFull, "disk-full", Failed)                                    \
  ROW(RecordDamaged, "record-damaged", Failed)                          \
  ROW(KeysUnreadable, "keys-unreadable", Failed)                        \
  ROW(FileUnreadable, "file-unreadable", Failed)                        \
  ROW(FileUnwritable, "file-unwritable", Failed)                        \
  ROW(FileExists, "file-exists", Failed)                                \
  ROW(BackupUnreadable, "backup-unreadable", Failed)                    \
  ROW(ImageUnreadable, "image-unreadable", Failed)                      \
  ROW(ImageTooLarge, "image-too-large", Failed)                         \
  ROW(CameraUnavailable, "camera-unavailable", Failed)                  \
  ROW(VideoUnreadable, "video-unreadable", Failed)                      \
  ROW(VideoCutOff, "video-cut-off", Failed)                             \
  ROW(FolderWithoutPictures, "folder-without-pictures", Failed)         \
  ROW(AuditUnknown, "audit-unknown", Failed)                            \
  ROW(SweepCutOff, "sweep-cut-off", Failed)                             \
  ROW(SweepGoesOn, "sweep-goes-on", Failed)                             \
  ROW(NothingMeasured, "nothing-measured", Failed)                      \
  ROW(StationUnavailable, "station-unavailable", Failed)                \
  ROW(CertificatesUnusable, "certificates-unusable", Failed)            \
  ROW(PinsUnreadable, "pins-unreadable", Failed)                        \
  ROW(PrinterUnavailable, "printer-unavailable", Failed)                \
  ROW(PrinterRefused, "printer-refused", Failed)                        \
  ROW(JobUnknown, "job-unknown", Failed)                                \
  ROW(Stopped, "stopped", Failed)                                       \
  ROW(ZoneUnknown, "zone-unknown", Failed)                              \
  ROW(WordsUnreadable, "words-unreadable", Failed)                      \
  ROW(PartUnavailable, "part-unavailable", Failed)                      \
  ROW(Internal, "internal", Failed)

enum class FailureCode {
#define ROW(name, text, kind) name,
  LOADLIGHT_FAILURES(ROW)
#undef ROW
};

// One named detail of a failure, for example {"line", "12"}.
using Detail = std::pair<std::string, std::string>;
using Details = std::vector<Detail>;

// A sentence of the words catalogue: its key and the details that fill its gaps.
struct Sentence final {
  std::string key;
  Details details;
};

struct Failure final {
  FailureCode code = FailureCode::Internal;
  Details details;
  std::vector<Sentence> items;  // what the failure lists, one a line: packages refused, CSV errors
};

std::string_view to_text(FailureCode code);
FailureKind kind_of(FailureCode code);
std::vector<FailureCode> all_failure_codes();

}  // namespace loadlight::core
