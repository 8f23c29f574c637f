#include "loadlight/vision/part.h"

#include <dlfcn.h>

#include <catch2/catch.hpp>

#include "vision/camera_view.h"
#include "vision/drawn_symbol.h"

namespace loadlight::vision_tests {

TEST_CASE("The part loads, and what its one function hands out reads a symbol") {
  void* part_file = dlopen(LOADLIGHT_VISION_PART, RTLD_NOW | RTLD_LOCAL);
  REQUIRE(part_file != nullptr);
  auto* entry = reinterpret_cast<vision::PartEntry*>(dlsym(part_file, vision::kPartEntry));
  REQUIRE(entry != nullptr);
  const auto* part = entry();
  const cv::Mat symbol = enlarged(drawn_symbol("PART", 1, Level::M), 4, 4);
  const auto found = part->make_symbol_reader()->read(view_of(symbol));
  REQUIRE(found.size() == 1);
  CHECK(found.front().text == "PART");
  CHECK(!part->make_picture_source()->read_file("/nowhere").ok());
  CHECK(!part->make_camera_door()->open(-1).ok());
}

}  // namespace loadlight::vision_tests
