#include "loadlight/system/clock.h"

#include <catch2/catch.hpp>

using namespace loadlight;

TEST_CASE("The clock shows the system's UTC time in milliseconds") {
  const auto clock = system::make_system_clock();
  const auto before = std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now());
  const core::Instant now = clock->now();
  CHECK(before <= now);
  CHECK(now <= std::chrono::system_clock::now());
}
