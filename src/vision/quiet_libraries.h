// Keeps picture and camera libraries from writing messages of their own to standard error.
#pragma once

namespace loadlight::vision {

// While one lives, standard error leads nowhere: libjpeg, libpng and the camera drivers write to it
// themselves, and OpenCV 4.6 offers no switch for that. For the whole process, so keep it short. Several
// may live at once, on any threads.
class QuietLibraries final {
 public:
  QuietLibraries();
  ~QuietLibraries();
  QuietLibraries(const QuietLibraries&) = delete;
  QuietLibraries& operator=(const QuietLibraries&) = delete;
};

}  // namespace loadlight::vision
