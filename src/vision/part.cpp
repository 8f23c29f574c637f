#include "loadlight/vision/part.h"

#include "loadlight/vision/readers.h"

namespace {

constexpr loadlight::vision::Part kPart{
    &loadlight::vision::make_symbol_reader,
    &loadlight::vision::make_picture_source,
    &loadlight::vision::make_camera_door,
    &loadlight::vision::make_video_door,
};

}  // namespace

extern "C" __attribute__((visibility("default"))) const loadlight::vision::Part* loadlight_vision_part() {
  return &kPart;
}
