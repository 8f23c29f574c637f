#include "loadlight/core/reasons.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <set>
#include <string>

namespace loadlight::core {
namespace {

const auto kHold = Outcome::Hold;
const auto kDoNotUse = Outcome::DoNotUse;
using Weights = std::map<std::string, Outcome>;

// Typed from the two tables of reasons in the project's design; label-not-read came with the audit, for labels
// that only the record could tell.
const Weights kPackageReasons = {{"not-a-package-label", kHold},
                                 {"label-not-read", kHold},
                                 {"label-version-unknown", kHold},
                                 {"chart-copy", kHold},
                                 {"old-label-in-view", kHold},
                                 {"label-not-authentic", kDoNotUse},
                                 {"package-unknown", kDoNotUse},
                                 {"label-record-mismatch", kDoNotUse},
                                 {"label-void", kDoNotUse},
                                 {"never-in-a-load", kDoNotUse},
                                 {"load-not-started", kDoNotUse},
                                 {"load-running", kHold},
                                 {"load-not-released", kHold},
                                 {"load-overdue", kHold},
                                 {"load-quarantined", kHold},
                                 {"load-aborted", kDoNotUse},
                                 {"load-failed", kDoNotUse},
                                 {"load-recalled", kDoNotUse},
                                 {"release-revoked", kDoNotUse},
                                 {"package-recalled", kDoNotUse},
                                 {"incident-open", kHold},
                                 {"past-use-by", kDoNotUse},
                                 {"already-opened", kDoNotUse},
                                 {"withdrawn", kDoNotUse},
                                 {"clock-behind-record", kHold},
                                 {"record-unreachable", kHold},
                                 {"record-damaged", kHold}};
const Weights kReleaseReasons = {{"mechanical-evidence-missing", kHold},
                                 {"mechanical-evidence-incomplete", kHold},
                                 {"external-indicator-unread", kHold},
                                 {"drying-short", kHold},
                                 {"daily-test-missing", kHold},
                                 {"biological-awaited", kHold},
                                 {"biological-invalid", kHold},
                                 {"consumable-expired", kHold},
                                 {"consumable-recalled", kHold},
                                 {"wet-packages", kHold},
                                 {"exposure-short", kDoNotUse},
                                 {"external-indicator-failed", kDoNotUse},
                                 {"daily-test-failed", kDoNotUse},
                                 {"program-not-allowed", kDoNotUse},
                                 {"sterilizer-out-of-service", kDoNotUse},
                                 {"load-aborted", kDoNotUse},
                                 {"biological-positive", kDoNotUse}};

Weights weights_in(std::initializer_list<ReasonScope> scopes) {
  Weights weights;
  for (Reason reason : all_reasons()) {
    if (std::find(scopes.begin(), scopes.end(), scope_of(reason)) == scopes.end()) continue;
    weights[std::string{to_text(reason)}] = weight_of(reason);
  }
  return weights;
}

}  // namespace

TEST_CASE("The reasons about packages and their weights are those of the design's table, and no others") {
  REQUIRE(weights_in({ReasonScope::Package, ReasonScope::Both}) == kPackageReasons);
}

TEST_CASE("Every reason of the design's release table is there with its weight") {
  const Weights weights = weights_in({ReasonScope::Release, ReasonScope::Both});
  for (const auto& [code, weight] : kReleaseReasons) {
    CAPTURE(code);
    REQUIRE(weights.count(code) == 1);
    REQUIRE(weights.at(code) == weight);
  }
  // Beside them only what keeps any judge from knowing, a load that has not ended, one in doubt by an
  // incident, and what a cycle log alone shows.
  for (const char* code : {"record-unreachable", "record-damaged", "clock-behind-record", "load-running",
                           "incident-open", "steam-not-saturated", "temperature-above-band"}) {
    CAPTURE(code);
    REQUIRE(weights.at(code) == kHold);
  }
  REQUIRE(weights.size() == kReleaseReasons.size() + 7);
}

TEST_CASE("No reason weighs nothing, and none of them has another's code") {
  std::set<std::string_view> codes;
  for (Reason reason : all_reasons()) {
    REQUIRE(weight_of(reason) != Outcome::Clear);
    REQUIRE(codes.insert(to_text(reason)).second);
  }
  REQUIRE(codes.size() == all_reasons().size());
}

TEST_CASE("The table of reasons stands worst first") {
  const auto reasons = all_reasons();
  for (std::size_t i = 1; i < reasons.size(); ++i)
    REQUIRE(weight_of(reasons[i - 1]) >= weight_of(reasons[i]));
  REQUIRE(std::is_sorted(reasons.begin(), reasons.end()));
}

TEST_CASE("Outcomes are ordered from best to worst and have the codes of the command contract") {
  REQUIRE(Outcome::Clear < Outcome::Hold);
  REQUIRE(Outcome::Hold < Outcome::DoNotUse);
  REQUIRE(to_text(Outcome::Clear) == "clear");
  REQUIRE(to_text(Outcome::Hold) == "hold");
  REQUIRE(to_text(Outcome::DoNotUse) == "do-not-use");
}

TEST_CASE("A number that is no reason weighs as the worst, and one that is no outcome reads as the worst") {
  REQUIRE(weight_of(static_cast<Reason>(9999)) == Outcome::DoNotUse);
  REQUIRE(to_text(static_cast<Outcome>(9999)) == "do-not-use");
}

TEST_CASE("Every note has a code of its own") {
  std::set<std::string_view> codes;
  for (Note note : all_notes()) REQUIRE(codes.insert(to_text(note)).second);
  for (const char* code : {"biological-pending", "biological-overdue", "released-as-emergency", "near-use-by",
                           "older-one-elsewhere"}) {
    CAPTURE(code);
    REQUIRE(codes.count(code) == 1);
  }
}

}  // namespace loadlight::core
