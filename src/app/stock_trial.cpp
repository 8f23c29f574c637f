#include "loadlight/app/stock_trial.h"

#include <cmath>

namespace loadlight::app {
namespace {

using core::ParameterGrade;

std::string in_hundredths(double value) {
  const auto hundredths = std::lround(value * 100);
  const auto digits = std::to_string(std::abs(hundredths) % 100);
  return (hundredths < 0 ? "-" : "") + std::to_string(std::abs(hundredths) / 100) + "." +
         std::string(2 - digits.size(), '0') + digits;
}

// Each parameter that steam made worse, with both its values.
std::string change_of(const std::vector<ParameterGrade>& before, const std::vector<ParameterGrade>& after) {
  std::string text;
  for (std::size_t i = 0; i < before.size() && i < after.size(); ++i) {
    if (after[i].grade >= before[i].grade) continue;
    text += "; " + std::string{core::to_text(after[i].parameter)} + " " + in_hundredths(before[i].value) +
            " -> " + in_hundredths(after[i].value);
  }
  return text;
}

std::string letter(const std::vector<ParameterGrade>& grades) {
  return std::string{core::letter_of(core::overall_grade(grades))};
}

bool survives(const StockTrialReply& reply) {
  const int before = core::overall_grade(reply.before);
  const int after = core::overall_grade(reply.after);
  return after >= kLeastAfterSteam && before - after <= kMostLost;
}

}  // namespace

core::Result<StockTrialReply> try_stock(const Ports& ports, const StockTrialRequest& request) {
  if (request.before.text.empty() || request.before.text != request.after.text) {
    return core::Failure{core::FailureCode::BadValue, {{"field", "after"}, {"value", request.after.text}}, {}};
  }
  StockTrialReply reply;
  reply.before = core::grades_of(request.before.measures);
  reply.after = core::grades_of(request.after.measures);
  reply.survives = survives(reply);
  const std::string note = "estimate before steam " + letter(reply.before) + ", after " +
                           letter(reply.after) + change_of(reply.before, reply.after);
  auto rated = rate_stock(ports, {request.operator_code, request.code,
                                  reply.survives ? core::SteamRating::Trial : core::SteamRating::Unrated,
                                  note});
  if (!rated) return rated.failure();
  reply.stock = *std::move(rated);
  return reply;
}

}  // namespace loadlight::app
