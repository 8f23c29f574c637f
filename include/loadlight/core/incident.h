// Incidents as the record keeps them: something that puts loads of one sterilizer in doubt, what was done
// about it, and what became of every package.
#pragma once

#include <optional>
#include <string>

#include "loadlight/core/dates.h"
#include "loadlight/core/load.h"
#include "loadlight/core/names.h"
#include "loadlight/core/profiles.h"
#include "loadlight/core/vocabulary.h"

namespace loadlight::core {

// The last two: a lot of indicators that a load was judged by, or of pouches that packages lie in, was recalled.
enum class IncidentCause { InternalIndicator, BiologicalPositive, FaultyIndicator, FaultyPouch };
enum class IncidentState { Open, Closed };

// How much of the suspect range is called back.
enum class RecallReach { Nothing, Implants, Everything };

struct Incident final {
  int number = 0;  // from 1
  IncidentCause cause = IncidentCause::InternalIndicator;
  IncidentState state = IncidentState::Open;
  std::string sterilizer;
  int load_number = 0;  // the load that raised it
  // The suspect range: runs of the sterilizer (Load::run), both ends included (suspect_range.h).
  int first_run = 1;
  int last_run = 0;
  std::optional<std::string> program;             // none: whatever the program
  Procedure procedure = Procedure::Conservative;  // in force when it was opened
  std::string profile;                            // Profile::text() at that time
  RecallReach recall = RecallReach::Nothing;
  bool sterilizer_held = false;  // out of service until the procedure lets it return
  std::string narrowed_why;      // filled: a person narrowed the range, and why
  std::string opened_by;
  Instant opened_at{};
  std::string closed_by;
  std::optional<Instant> closed_at;
  std::string note;

  LoadName load() const { return {sterilizer, load_number}; }
  bool covers(const Load& other) const {
    return other.name.sterilizer == sterilizer && other.run && *other.run >= first_run &&
           *other.run <= last_run && (!program || *program == other.program);
  }
  friend bool operator==(const Incident&, const Incident&) = default;
};

// One step of its procedure, done.
struct IncidentStep final {
  int number = 0;  // from 1, over the whole record
  int incident = 0;
  std::string step;     // a code of incident_steps.h
  std::string finding;  // one of the step's findings
  std::string note;
  std::string done_by;
  Instant done_at{};

  friend bool operator==(const IncidentStep&, const IncidentStep&) = default;
};

// What became of a suspect package.
enum class Disposition { Withdrawn, Opened, Reprocessed, NotFound };

struct Accounting final {
  int incident = 0;
  PackageId package;
  Disposition disposition = Disposition::Withdrawn;
  std::string why;  // needed for NotFound
  std::string accounted_by;
  Instant accounted_at{};

  friend bool operator==(const Accounting&, const Accounting&) = default;
};

template <>
struct Vocabulary<IncidentCause> {
  static constexpr Term<IncidentCause> kTerms[] = {
      {IncidentCause::InternalIndicator, "internal-indicator"},
      {IncidentCause::BiologicalPositive, "biological-positive"},
      {IncidentCause::FaultyIndicator, "faulty-indicator"},
      {IncidentCause::FaultyPouch, "faulty-pouch"}};
};
template <>
struct Vocabulary<IncidentState> {
  static constexpr Term<IncidentState> kTerms[] = {{IncidentState::Open, "open"},
                                                   {IncidentState::Closed, "closed"}};
};
template <>
struct Vocabulary<RecallReach> {
  static constexpr Term<RecallReach> kTerms[] = {{RecallReach::Nothing, "nothing"},
                                                 {RecallReach::Implants, "implants"},
                                                 {RecallReach::Everything, "everything"}};
};
template <>
struct Vocabulary<Disposition> {
  static constexpr Term<Disposition> kTerms[] = {{Disposition::Withdrawn, "withdrawn"},
                                                 {Disposition::Opened, "opened"},
                                                 {Disposition::Reprocessed, "reprocessed"},
                                                 {Disposition::NotFound, "not-found"}};
};

}  // namespace loadlight::core
