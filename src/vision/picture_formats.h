// The picture formats that can be read: how each is told, and where it says its size. A header that is cut
// off has `whole` false. One function a format and question; picture_header.cpp lists them.
#pragma once

#include "vision/byte_view.h"
#include "vision/picture_header.h"

namespace loadlight::vision {

bool is_png(const ByteView& bytes);
bool is_jpeg(const ByteView& bytes);
bool is_webp(const ByteView& bytes);
bool is_tiff(const ByteView& bytes);
bool is_bmp(const ByteView& bytes);
bool is_pnm(const ByteView& bytes);

PictureHeader png_header(const ByteView& bytes);
PictureHeader jpeg_header(const ByteView& bytes);
PictureHeader webp_header(const ByteView& bytes);
PictureHeader tiff_header(const ByteView& bytes);
PictureHeader bmp_header(const ByteView& bytes);
PictureHeader pnm_header(const ByteView& bytes);

}  // namespace loadlight::vision
