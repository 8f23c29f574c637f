// The evidence about a load as the record keeps it: chemical and biological indicators, and what a cycle
// log showed. Rows are added; a result that contradicts an earlier one stands beside it with its reason.
#pragma once

#include <optional>
#include <string>

#include "loadlight/core/dates.h"
#include "loadlight/core/names.h"
#include "loadlight/core/vocabulary.h"

namespace loadlight::core {

enum class IndicatorPlace { External, Internal, ProcessChallenge };

// One reading of a chemical indicator (ISO 11140-1 types 1 to 6; indicator_types.h says what each may
// support).
struct IndicatorReading final {
  int number = 0;  // from 1, over the whole record
  LoadName load;
  IndicatorPlace place = IndicatorPlace::External;
  int type = 1;
  std::string lot;
  CivilDate expires = *CivilDate::from(1900, 1, 1);
  bool passed = false;
  std::optional<PackageId> package;  // none: the load as a whole
  std::string read_by;
  Instant read_at{};
  // What a type 6 indicator states on itself; it speaks for no other program.
  std::optional<double> stated_celsius;
  std::optional<double> stated_minutes;
  std::string why;  // filled: it differs from an earlier reading of the same indicator

  friend bool operator==(const IndicatorReading&, const IndicatorReading&) = default;
};

// Where a biological indicator is incubated and read.
enum class BiologicalReader { Office, MailIn };

// A biological indicator that was run with a load, from its placing to its result.
struct BiologicalRun final {
  int number = 0;  // from 1, over the whole record
  LoadName load;
  std::string lot;
  std::string control_lot;
  std::optional<CivilDate> expires;
  BiologicalReader reader = BiologicalReader::Office;
  std::string service;  // who reads it, when it is mailed in
  std::string placed_by;
  Instant placed_at{};
  std::optional<Instant> incubated_at;
  std::optional<CivilDate> sent_on;
  Instant due_at{};  // when its result is to be read or to be back

  friend bool operator==(const BiologicalRun&, const BiologicalRun&) = default;
};

enum class BiologicalTest { Growth, NoGrowth, Lost };
enum class BiologicalControl { Growth, NoGrowth, NotReported };

// One result of a biological indicator with its control.
struct BiologicalReading final {
  int number = 0;  // from 1, over the whole record
  LoadName load;
  std::string lot;
  BiologicalTest test = BiologicalTest::Lost;
  BiologicalControl control = BiologicalControl::NotReported;
  std::string control_lot;
  std::string read_by;
  Instant read_at{};
  std::optional<int> of_run;             // BiologicalRun::number
  std::optional<CivilDate> received_on;  // by the service that read it
  std::optional<CivilDate> reported_on;  // by that service
  std::string report_file;               // its name; the file stays where it is
  std::string why;                       // filled: it differs from an earlier result

  friend bool operator==(const BiologicalReading&, const BiologicalReading&) = default;
};

// What a sterilizer's own log showed, measured once when it was read in (cycle.h says how).
struct CycleLog final {
  int number = 0;  // from 1, over the whole record
  LoadName load;
  std::string file;      // its name
  std::string mapping;   // how it was read
  std::string findings;  // cycle_text.h: what was measured
  std::string curve;     // cycle_text.h: for the plot
  std::string read_by;
  Instant read_at{};
  std::string why;  // filled: it replaces another log of the same load

  friend bool operator==(const CycleLog&, const CycleLog&) = default;
};

template <>
struct Vocabulary<IndicatorPlace> {
  static constexpr Term<IndicatorPlace> kTerms[] = {{IndicatorPlace::External, "external"},
                                                    {IndicatorPlace::Internal, "internal"},
                                                    {IndicatorPlace::ProcessChallenge, "pcd"}};
};
template <>
struct Vocabulary<BiologicalReader> {
  static constexpr Term<BiologicalReader> kTerms[] = {{BiologicalReader::Office, "office"},
                                                      {BiologicalReader::MailIn, "mail-in"}};
};
template <>
struct Vocabulary<BiologicalTest> {
  static constexpr Term<BiologicalTest> kTerms[] = {{BiologicalTest::Growth, "growth"},
                                                    {BiologicalTest::NoGrowth, "no-growth"},
                                                    {BiologicalTest::Lost, "lost"}};
};
template <>
struct Vocabulary<BiologicalControl> {
  static constexpr Term<BiologicalControl> kTerms[] = {{BiologicalControl::Growth, "growth"},
                                                       {BiologicalControl::NoGrowth, "no-growth"},
                                                       {BiologicalControl::NotReported, "not-reported"}};
};

}  // namespace loadlight::core
