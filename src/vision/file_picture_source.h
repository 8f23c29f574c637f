#pragma once

#include "loadlight/port/symbol_reader.h"

namespace loadlight::vision {

// Regular files only: a pipe could keep its reader waiting for ever. Thread-safe.
class FilePictureSource final : public port::PictureSource {
 public:
  core::Result<port::GrayPicture> read_file(const std::string& path) const override;
  core::Result<port::GrayPicture> decode(std::span<const std::uint8_t> bytes) const override;
};

}  // namespace loadlight::vision
