// A shelf audit: what a sweep of a camera saw, held against what the record expects there.
#pragma once

#include <optional>
#include <string>

#include "loadlight/core/load.h"
#include "loadlight/core/package.h"
#include "loadlight/core/vocabulary.h"

namespace loadlight::core {

// Of a package that was seen.
enum class AuditStatus {
  Present,     // expected here
  Misplaced,   // expected at another location
  Unexpected,  // expected nowhere: unknown, not released, opened, withdrawn, recalled, or never put away
};

enum class SeenHow {
  Read,     // its symbol was decoded
  Matched,  // its symbol was too damaged, and the record told which of the expected ones it is
};

// Where a package is expected: its last known location, if it is loaded, its load is released and neither is
// recalled; nowhere otherwise.
std::optional<std::string> expected_location(const Package& package, const Load& load);

AuditStatus status_of(const std::optional<std::string>& expected, std::string_view seen_at);

// How much likelier than anything else an identification from the record must be, in powers of ten: against
// the second best candidate, and against a symbol that is none of them. By chance a wrong one passes less than
// once in 10^kMatchOverChance symbols for each candidate (a likelihood ratio's tail: Markov's inequality).
inline constexpr double kMatchOverSecond = 6;
inline constexpr double kMatchOverChance = 12;
bool is_certain_match(double over_second, double over_chance);

template <>
struct Vocabulary<AuditStatus> {
  static constexpr Term<AuditStatus> kTerms[] = {{AuditStatus::Present, "present"},
                                                 {AuditStatus::Misplaced, "misplaced"},
                                                 {AuditStatus::Unexpected, "unexpected"}};
};
template <>
struct Vocabulary<SeenHow> {
  static constexpr Term<SeenHow> kTerms[] = {{SeenHow::Read, "read"}, {SeenHow::Matched, "matched"}};
};

}  // namespace loadlight::core
