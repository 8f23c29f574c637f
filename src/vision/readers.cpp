#include "loadlight/vision/readers.h"

#include "vision/camera.h"
#include "vision/cascade_reader.h"
#include "vision/file_picture_source.h"
#include "vision/video_file.h"

namespace loadlight::vision {

std::unique_ptr<port::SymbolReader> make_symbol_reader() {
  return std::make_unique<CascadeReader>();
}

std::unique_ptr<port::PictureSource> make_picture_source() {
  return std::make_unique<FilePictureSource>();
}

std::unique_ptr<port::CameraDoor> make_camera_door() {
  return std::make_unique<VideoCameraDoor>();
}

std::unique_ptr<port::VideoDoor> make_video_door() {
  return std::make_unique<VideoFileDoor>();
}

}  // namespace loadlight::vision
