// Vision as a part that is loaded when a command looks at a picture. What its objects do is said in
// port/symbol_reader.h; they must be gone before the part is unloaded (it never is).
#pragma once

#include <memory>

#include "loadlight/port/frame_source.h"
#include "loadlight/port/symbol_reader.h"

namespace loadlight::vision {

struct Part final {
  std::unique_ptr<port::SymbolReader> (*make_symbol_reader)();
  std::unique_ptr<port::PictureSource> (*make_picture_source)();
  std::unique_ptr<port::CameraDoor> (*make_camera_door)();
  std::unique_ptr<port::VideoDoor> (*make_video_door)();
};

// The part's file is vision.so and this is its only visible function; never null, never throws.
inline constexpr char kPartEntry[] = "loadlight_vision_part";
using PartEntry = const Part*();

}  // namespace loadlight::vision
