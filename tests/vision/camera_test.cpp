#include <catch2/catch.hpp>

#include "loadlight/vision/readers.h"

namespace loadlight::vision_tests {

// Opening a camera that exists is shown by hand: machines that run tests have none.
TEST_CASE("A camera that is not there is said to be unavailable") {
  const auto door = vision::make_camera_door();
  for (const int number : {-1, 97, 1'000'000'000}) {
    const auto camera = door->open(number);
    REQUIRE(!camera.ok());
    CHECK(camera.failure().code == core::FailureCode::CameraUnavailable);
    CHECK(camera.failure().details.front() == core::Detail{"camera", std::to_string(number)});
  }
}

}  // namespace loadlight::vision_tests
