// Vision: what sees. Reads QR symbols in pictures, picture files and cameras (OpenCV and ZXing-C++ inside).
#pragma once

#include <memory>

#include "loadlight/port/frame_source.h"
#include "loadlight/port/symbol_reader.h"

namespace loadlight::vision {

std::unique_ptr<port::SymbolReader> make_symbol_reader();
std::unique_ptr<port::PictureSource> make_picture_source();
std::unique_ptr<port::CameraDoor> make_camera_door();
std::unique_ptr<port::VideoDoor> make_video_door();

}  // namespace loadlight::vision
