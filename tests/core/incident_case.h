// Incidents for tests, told one thing after the other.
#pragma once

#include <string>

#include "loadlight/core/incident_progress.h"

namespace loadlight::core {

class IncidentCase final {
 public:
  explicit IncidentCase(Procedure procedure) { facts_.procedure = procedure; }
  static IncidentCase of_indicator() {
    IncidentCase told(Procedure::Dental2003);
    told.facts_.cause = IncidentCause::InternalIndicator;
    return told;
  }

  IncidentCase& step(std::string code, std::string finding = "fine") {
    facts_.done.push_back({std::move(code), std::move(finding)});
    return *this;
  }
  // A retest of the same program in an empty chamber, mechanical and chemical evidence in order.
  IncidentCase& retest(std::optional<BiologicalStanding> standing) {
    facts_.retests.push_back({++run_, standing, true, true, true, static_cast<int>(facts_.done.size())});
    return *this;
  }
  IncidentCase& negative() { return retest(BiologicalStanding::Negative); }
  IncidentCase& positive() { return retest(BiologicalStanding::Positive); }
  Retest& last_retest() { return facts_.retests.back(); }
  IncidentCase& narrowed() {
    facts_.narrowed = true;
    return *this;
  }

  const IncidentFacts& facts() const { return facts_; }
  operator const IncidentFacts&() const { return facts_; }  // NOLINT: a case is its facts

 private:
  IncidentFacts facts_;
  int run_ = 130;
};

// The steps that each procedure asks of people before any retest, each with its good finding.
inline IncidentCase dental_reviewed() {
  return IncidentCase(Procedure::Dental2003)
      .step("out-of-service", "done")
      .step("recall-implants", "none-aboard")
      .step("review-records")
      .step("review-procedures");
}

inline IncidentCase facility_checked() {
  return IncidentCase(Procedure::Facility2008)
      .step("out-of-service", "done")
      .step("notify", "done")
      .step("recall-implants", "recalled")
      .step("check-settings")
      .step("check-utilities")
      .step("check-indicator");
}

inline IncidentCase conservative_reviewed() {
  return IncidentCase(Procedure::Conservative)
      .step("out-of-service", "done")
      .step("recall-implants", "none-aboard")
      .step("recall-everything", "recalled")
      .step("review-records")
      .step("review-procedures");
}

inline bool may_return(const IncidentFacts& facts) {
  return obstacles_to_return(facts).empty();
}

}  // namespace loadlight::core
