#include "loadlight/system/part.h"

#include <catch2/catch.hpp>

using namespace loadlight;
using Example = int(int);

namespace {

const std::string kFolder = LOADLIGHT_EXAMPLE_PARTS;

void check_unavailable(const std::string& path, const std::string& entry) {
  const auto part = system::load_part(path, entry);
  REQUIRE_FALSE(part);
  CHECK(part.failure().code == core::FailureCode::PartUnavailable);
  CHECK(part.failure().details.at(0) == core::Detail{"part", path});
  CHECK_FALSE(part.failure().details.at(1).second.empty());
}

}  // namespace

TEST_CASE("A part's function can be called, however its type is named") {
  const auto plain = system::load_part_as<Example>(kFolder + "/example.so", "loadlight_example");
  const auto pointer = system::load_part_as<Example*>(kFolder + "/example.so", "loadlight_example");
  REQUIRE(plain);
  REQUIRE(pointer);
  CHECK((*plain)(41) == 42);
  CHECK(*plain == *pointer);
}

TEST_CASE("A part that is absent, foreign or without its function is unavailable") {
  check_unavailable(kFolder + "/absent.so", "loadlight_example");
  check_unavailable(kFolder + "/CMakeFiles", "loadlight_example");
  check_unavailable(LOADLIGHT_SOURCE_DIR "/CMakeLists.txt", "loadlight_example");
  check_unavailable(kFolder + "/example.so", "loadlight_other");
}

TEST_CASE("A part that needs what nobody has is told at loading, not at the first call") {
  check_unavailable(kFolder + "/broken.so", "loadlight_broken");
}
