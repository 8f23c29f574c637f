// A set of reasons, for the rules' oracles: what a naive statement of a table expects, and what a verdict
// holds.
#pragma once

#include <bitset>
#include <sstream>
#include <string>

#include "loadlight/core/verdict.h"

namespace loadlight::core {

using ReasonSet = std::bitset<64>;

inline void add(ReasonSet& set, Reason reason) {
  set.set(static_cast<std::size_t>(reason));
}

inline ReasonSet set_of(const Verdict& verdict) {
  ReasonSet set;
  for (Reason reason : verdict.reasons()) add(set, reason);
  return set;
}

// The worst weight of a set; Clear for the empty one.
inline Outcome outcome_of(const ReasonSet& set) {
  Outcome worst = Outcome::Clear;
  for (Reason reason : all_reasons()) {
    if (set.test(static_cast<std::size_t>(reason))) worst = std::max(worst, weight_of(reason));
  }
  return worst;
}

// Worst first, each once.
inline bool is_in_order(const Verdict& verdict) {
  const auto& reasons = verdict.reasons();
  for (std::size_t i = 1; i < reasons.size(); ++i) {
    if (reasons[i - 1] >= reasons[i] || weight_of(reasons[i - 1]) < weight_of(reasons[i])) return false;
  }
  return true;
}

inline std::string listed(const ReasonSet& set) {
  std::ostringstream text;
  for (Reason reason : all_reasons()) {
    if (set.test(static_cast<std::size_t>(reason))) text << to_text(reason) << ' ';
  }
  return text.str();
}

// The verdict is exactly what the set asks for: the same reasons in order, and their outcome.
inline bool agrees(const Verdict& verdict, const ReasonSet& expected) {
  return set_of(verdict) == expected && verdict.outcome() == outcome_of(expected) && is_in_order(verdict);
}

}  // namespace loadlight::core
