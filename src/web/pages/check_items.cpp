#include "web/pages/check_items.h"

#include <algorithm>

#include "loadlight/core/vocabulary.h"

namespace loadlight::web {

using app::CheckItem;

app::CheckRequest request_of(const Visit& visit, std::vector<CheckItem> items) {
  return {std::move(items), visit.operator_code(), [&world = visit.desk.world()](std::string_view name) {
            return app::find_template(world, name);
          }};
}

CheckItem item_of(std::string_view given) {
  constexpr std::string_view kBlank = " \t\r\n";
  const auto first = std::min(given.find_first_not_of(kBlank), given.size());
  const std::string text{given.substr(first, given.find_last_not_of(kBlank) + 1 - first)};
  const bool typed = core::PackageId::parse_typed(text).has_value();
  return {typed ? CheckItem::How::TypedId : CheckItem::How::Symbol, text, std::nullopt};
}

core::RecordState state_of(const core::Failure& failure) {
  return failure.code == core::FailureCode::RecordDamaged ? core::RecordState::Damaged
                                                          : core::RecordState::Unreachable;
}

std::string reason_codes(const core::Verdict& verdict) {
  std::string codes;
  for (const core::Reason reason : verdict.reasons()) {
    codes += (codes.empty() ? "" : " ") + std::string{core::to_text(reason)};
  }
  return codes;
}

}  // namespace loadlight::web
