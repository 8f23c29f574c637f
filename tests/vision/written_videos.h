// Videos written at test time, and what happens to them on their way from a camera.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace loadlight::vision_tests {

// A folder of its own that goes with all it holds.
class VideoFolder final {
 public:
  VideoFolder();
  ~VideoFolder();
  VideoFolder(const VideoFolder&) = delete;
  VideoFolder& operator=(const VideoFolder&) = delete;

  std::string path(std::string_view name) const { return folder_ + "/" + std::string{name}; }
  std::string write(std::string_view name, std::string_view bytes) const;

 private:
  std::string folder_;
};

// 320 x 240 at ten frames a second: a white square in the top left corner; frame n (from 0) is 4 * n + 20
// grey in its middle. The name's ending decides: .avi (MJPEG), .mp4, .mkv (MPEG-4).
std::string numbered_video(const VideoFolder& folder, std::string_view name, int frames);

std::string bytes_of(const std::string& path);

// The 3 x 3 matrix of the track's header (ISO/IEC 14496-12, 8.3.2), of which a, b, c, d are given here,
// whole.
std::string with_matrix(std::string mp4, int a, int b, int c, int d);

// As a telephone writes it: the first half of the frames at the file's rate, the rest five times as long.
std::string with_variable_rate(std::string mp4, int frames);

// The track says that it is sound.
std::string as_sound(std::string mp4);

}  // namespace loadlight::vision_tests
