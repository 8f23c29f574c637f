#include "printing/ipp_words.h"

#include <catch2/catch.hpp>

namespace loadlight::tests {
namespace {

using port::TroubleKind;
using printing::trouble_of;

TEST_CASE("A reason says what it is and how much it weighs") {
  const auto empty = trouble_of("media-empty-error");
  REQUIRE(empty);
  REQUIRE(empty->kind == TroubleKind::MediaEmpty);
  REQUIRE(empty->keyword == "media-empty");
  REQUIRE_FALSE(empty->warning);
  REQUIRE(trouble_of("cover-open-warning")->warning);
  REQUIRE(trouble_of("media-low-error")->warning);
  REQUIRE_FALSE(trouble_of("media-empty-warning")->warning);  // it has one roll
  REQUIRE(trouble_of("moving-to-paused")->kind == TroubleKind::Paused);
}

TEST_CASE("A reason without its weight hinders") {
  const auto jam = trouble_of("media-jam");
  REQUIRE(jam);
  REQUIRE(jam->kind == TroubleKind::MediaJam);
  REQUIRE_FALSE(jam->warning);
}

TEST_CASE("What is no trouble is none") {
  REQUIRE_FALSE(trouble_of("none"));
  REQUIRE_FALSE(trouble_of(""));
  REQUIRE_FALSE(trouble_of("media-low-report"));
}

TEST_CASE("A maker's own reason is kept as it was given and cut to a length") {
  const auto own = trouble_of("acme-blade-dull-error");
  REQUIRE(own);
  REQUIRE(own->kind == TroubleKind::Other);
  REQUIRE(own->keyword == "acme-blade-dull");
  REQUIRE(trouble_of(std::string(5000, 'x'))->keyword.size() == 100);
}

TEST_CASE("Every trouble's text is read back as itself") {
  for (const auto& term : core::Vocabulary<TroubleKind>::kTerms) {
    CAPTURE(term.text);
    if (term.value == TroubleKind::Other) continue;
    REQUIRE(trouble_of(std::string{term.text} + "-error")->kind == term.value);
  }
}

// RFC 8011, 5.4.11 and 5.3.7.
TEST_CASE("Numbers of printers and jobs are those of IPP and one that is unknown is no end") {
  REQUIRE(printing::activity_of(3) == port::PrinterActivity::Idle);
  REQUIRE(printing::activity_of(4) == port::PrinterActivity::Printing);
  REQUIRE(printing::activity_of(5) == port::PrinterActivity::Stopped);
  REQUIRE(printing::activity_of(0) == port::PrinterActivity::Stopped);
  const port::JobState states[] = {port::JobState::Waiting,   port::JobState::Held,
                                   port::JobState::Printing,  port::JobState::Stopped,
                                   port::JobState::Cancelled, port::JobState::Aborted,
                                   port::JobState::Done};
  for (int i = 0; i < 7; ++i) REQUIRE(printing::job_state_of(3 + i) == states[i]);
  REQUIRE_FALSE(port::has_ended(printing::job_state_of(0)));
  REQUIRE_FALSE(port::has_ended(printing::job_state_of(99)));
}

}  // namespace
}  // namespace loadlight::tests
