// A package and the print run that made its label, as the record keeps them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/core/dates.h"
#include "loadlight/core/names.h"
#include "loadlight/core/symbol.h"
#include "loadlight/core/vocabulary.h"

namespace loadlight::core {

// Where a package stands. It moves only through the table in transitions.h.
enum class PackageState {
  Labelled,   // label printed, not yet in a load
  Loaded,     // in the load its label names; what came of it is the load's to say
  Opened,     // used, or found opened
  Withdrawn,  // taken out: to be reprocessed under a new label
  Void,       // its label is void; never returns
};

enum class WithdrawReason { Wet, Torn, Dropped, Indicator, Other };

// What the internal indicator showed once the package was open.
enum class IndicatorLook { Changed, Unchanged };

struct Package final {
  PackageId id;
  LoadName load;
  CivilDate process_date;           // as printed (16D)
  std::optional<CivilDate> use_by{};  // as printed (14D)
  std::string operator_code{};
  std::string contents{};
  std::string kind{};
  std::string payload{};  // the symbol's whole text
  SymbolForm symbol{};
  std::string chart_payload{};  // empty when the label has no chart copy
  SymbolForm chart_symbol{};
  int print_run = 0;  // PrintRun::number
  int cell = 1;       // its place in the print run: sheet cells counted on over all pages, from 1
  Instant printed_at{};
  PackageState state = PackageState::Labelled;
  bool recalled = false;
  std::optional<PackageId> replaced_by{};
  std::optional<std::string> location{};
  std::optional<WithdrawReason> withdrawn_because{};
  std::optional<Instant> opened_at{};
  std::optional<std::string> visit{};
  std::optional<IndicatorLook> internal_indicator{};

  friend bool operator==(const Package&, const Package&) = default;
};

// One printing of labels; with the packages that name it, all that a byte-identical reprint needs.
struct PrintRun final {
  int number = 0;  // from 1
  std::string template_name;
  std::string stock;
  int dpi = 300;
  int first_cell = 1;       // from 1
  int nudge_x_microns = 0;  // right is positive
  int nudge_y_microns = 0;  // down is positive
  Instant made_at{};        // also the PDF's creation date

  friend bool operator==(const PrintRun&, const PrintRun&) = default;
};

template <>
struct Vocabulary<PackageState> {
  static constexpr Term<PackageState> kTerms[] = {{PackageState::Labelled, "labelled"},
                                                  {PackageState::Loaded, "loaded"},
                                                  {PackageState::Opened, "opened"},
                                                  {PackageState::Withdrawn, "withdrawn"},
                                                  {PackageState::Void, "void"}};
};
template <>
struct Vocabulary<WithdrawReason> {
  static constexpr Term<WithdrawReason> kTerms[] = {{WithdrawReason::Wet, "wet"},
                                                    {WithdrawReason::Torn, "torn"},
                                                    {WithdrawReason::Dropped, "dropped"},
                                                    {WithdrawReason::Indicator, "indicator"},
                                                    {WithdrawReason::Other, "other"}};
};
template <>
struct Vocabulary<IndicatorLook> {
  static constexpr Term<IndicatorLook> kTerms[] = {{IndicatorLook::Changed, "changed"},
                                                   {IndicatorLook::Unchanged, "unchanged"}};
};

}  // namespace loadlight::core
