#include "loadlight/core/checkpoint.h"

#include <catch2/catch.hpp>

using namespace loadlight::core;
using std::chrono::hours;
using std::chrono::milliseconds;

namespace {

const std::vector<EventKind> kPlain{EventKind::PackageChecked};

}  // namespace

TEST_CASE("Entries ask for a checkpoint when one of them is a multiple of 64") {
  CHECK(asks_for_checkpoint(64, 64, kPlain));
  CHECK(asks_for_checkpoint(60, 70, kPlain));
  CHECK(asks_for_checkpoint(128, 128, kPlain));
  CHECK(asks_for_checkpoint(1, 640, kPlain));
  CHECK_FALSE(asks_for_checkpoint(1, 63, kPlain));
  CHECK_FALSE(asks_for_checkpoint(65, 127, kPlain));
}

TEST_CASE("What nobody should unsay asks for a checkpoint at once") {
  for (const EventKind kind : {EventKind::LoadReleased, EventKind::ReleaseRevoked, EventKind::LoadRecalled,
                               EventKind::IncidentClosed}) {
    CAPTURE(to_text(kind));
    CHECK(asks_for_checkpoint(2, 3, {EventKind::PackageChecked, kind}));
  }
  CHECK_FALSE(asks_for_checkpoint(2, 3, {EventKind::LoadQuarantined, EventKind::IncidentOpened}));
}

TEST_CASE("A day without a checkpoint asks for one by any clock") {
  const Instant now = instant_from(1764079387000);
  CHECK(checkpoint_overdue(std::nullopt, now));
  CHECK_FALSE(checkpoint_overdue(now, now));
  CHECK_FALSE(checkpoint_overdue(now - hours{24}, now));
  CHECK(checkpoint_overdue(now - hours{24} - milliseconds{1}, now));
  CHECK_FALSE(checkpoint_overdue(now + hours{24}, now));
  CHECK(checkpoint_overdue(now + hours{24} + milliseconds{1}, now));
}
