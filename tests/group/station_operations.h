// What a station does all day: each operation finds itself something to work on in the record as it stands, so that
// stations often choose the same load or package, and goes through the app's use case.
#pragma once

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "group/station.h"

namespace loadlight::tests {

inline constexpr int kSterilizers = 4;

// One thing to do, to be tried again as often as another station's change came between.
struct Attempt final {
  std::string_view operation;
  std::string subject;
  std::function<core::Result<void>()> act;
};

// Nothing where there is nothing of its kind to do at the moment.
using Plan = core::Result<std::optional<Attempt>> (*)(Station&);

struct OperationRow final {
  Plan plan;
  int weight;
};
std::span<const OperationRow> all_operations();

// Makes the office: its operators, sterilizers and tables.
void found_office(Station& station);

// The text of a new label whose package is in a released load: S1-1, in an office where nothing was done yet.
std::string release_package(Station& station);

}  // namespace loadlight::tests
