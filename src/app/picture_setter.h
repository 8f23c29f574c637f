// Photographs on pages, with the outlines of what was found in them.
#pragma once

#include "app/page_flow.h"
#include "loadlight/report/document.h"

namespace loadlight::app {

// As wide as the column, or narrower so that it fits a page with its caption; without bytes only the caption.
core::Result<void> place_picture(const report::MarkedPicture& picture, PageFlow& flow);

// Rows of small pictures, no larger than their place and no row broken.
core::Result<void> place_grid(const report::PictureGrid& grid, PageFlow& flow);

}  // namespace loadlight::app
