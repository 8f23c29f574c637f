// The photographs of a folder, one after another, as frames that stand apart.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "loadlight/core/failure.h"
#include "loadlight/port/frame_source.h"
#include "loadlight/port/picture.h"

namespace loadlight::app {

// Whether a file of this name is meant as a photograph: by its ending, in either case. One of a form that is
// not read (HEIC, GIF) counts, so that somebody is told.
bool is_photo_name(const std::string& name);

// Whether one name comes before another as people count: IMG_9 before IMG_10.
bool comes_before(const std::string& one, const std::string& other);

// What keeps one of them from being read; the others still come.
using PhotoSkipped = std::function<void(const core::Failure&)>;

// Of `names`, the files of the folder in any order, those that are photographs. Each is read when it is asked
// for, and only one is held; Frame::file is its name alone. Fails with FolderWithoutPictures (detail: path)
// when there is none. `pictures` must outlive the source.
core::Result<std::unique_ptr<port::FrameSource>> open_photos(const port::PictureSource& pictures,
                                                             const std::string& folder,
                                                             std::vector<std::string> names,
                                                             PhotoSkipped skipped);

}  // namespace loadlight::app
