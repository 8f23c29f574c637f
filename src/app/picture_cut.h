// Pieces of pictures.
#pragma once

#include "loadlight/port/picture.h"

namespace loadlight::app {

struct PictureCut final {
  port::GrayPicture picture;
  port::Corners corners{};  // in it
};

// A symbol's place and half its width around it, as far as the picture reaches; an empty picture when it does
// not reach the place at all.
PictureCut cut_around(port::GrayView picture, const port::Corners& place);

// How large a picture is once its longer side has at most `longest` pixels.
struct PictureSize final {
  int width = 0;
  int height = 0;
};
PictureSize reduced_size(port::GrayView picture, int longest);

}  // namespace loadlight::app
