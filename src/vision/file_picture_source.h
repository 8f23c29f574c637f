#pragma once

#include "loadlight/port/picture.h"

namespace loadlight::vision {

// Regular files only: a pipe could keep its reader waiting for ever. Thread-safe.
class FilePictureSource final : public port::PictureSource {
 public:
  core::Result<port::GrayPicture> read_file(const std::string& path) const override;
  core::Result<port::GrayPicture> decode(std::span<const std::uint8_t> bytes) const override;
  std::string jpeg(port::GrayView view, int longest) const override;
};

}  // namespace loadlight::vision
