#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <opencv2/core.hpp>
#include <opencv2/videoio.hpp>

#include "loadlight/vision/readers.h"
#include "vision/video_container.h"
#include "vision/written_videos.h"

namespace loadlight::vision_tests {
namespace {

constexpr int kFrames = 30;

struct Watched final {
  std::vector<int> numbers;
  std::vector<double> seconds;
  std::vector<int> greys;  // of the frames' middles
  port::GrayPicture first;
  std::optional<core::Failure> failure;
};

std::unique_ptr<port::FrameSource> opened(const std::string& path) {
  auto source = vision::make_video_door()->open(path);
  REQUIRE(source.ok());
  return std::move(*source);
}

Watched watch(port::FrameSource& source) {
  Watched watched;
  for (;;) {
    auto frame = source.next();
    if (!frame) {
      watched.failure = frame.failure();
      return watched;
    }
    if (!*frame) return watched;
    const auto& picture = (*frame)->picture;
    watched.numbers.push_back((*frame)->number);
    watched.seconds.push_back((*frame)->seconds);
    const auto middle = static_cast<std::size_t>(picture.height / 2 * picture.width + picture.width / 2);
    watched.greys.push_back(picture.pixels[middle]);
    if (watched.numbers.size() == 1) watched.first = picture;
  }
}

core::Failure refused(const std::string& path) {
  const auto source = vision::make_video_door()->open(path);
  REQUIRE(!source.ok());
  CHECK(source.failure().details.front() == core::Detail{"path", path});
  return source.failure();
}

void check_refused(const std::string& path, core::FailureCode code, const std::string& word) {
  INFO(path);
  const auto failure = refused(path);
  CHECK(failure.code == code);
  CHECK(failure.details.at(1).second == word);
}

int grey_at(const port::GrayPicture& picture, int x, int y) {
  return picture.pixels[static_cast<std::size_t>(y * picture.width + x)];
}

// Which corner is white, clockwise from the top left; -1: none or several.
int white_corner(const port::GrayPicture& picture) {
  const int right = picture.width - 20;
  const int bottom = picture.height - 20;
  const int greys[] = {grey_at(picture, 20, 20), grey_at(picture, right, 20), grey_at(picture, right, bottom),
                       grey_at(picture, 20, bottom)};
  int found = -1;
  for (int i = 0; i < 4; ++i) {
    if (greys[i] > 200) found = found == -1 ? i : -2;
  }
  return found;
}

// How many frames of an AVI lie wholly in a part of it: each begins with its chunk's name.
std::size_t whole_frames(const std::string& part) {
  std::size_t begun = 0;
  for (auto at = part.find("00dc", part.find("movi")); at != std::string::npos;
       at = part.find("00dc", at + 1))
    ++begun;
  return begun == 0 ? 0 : begun - 1;
}

std::string detail(const core::Failure& failure, const std::string& name) {
  for (const auto& [key, value] : failure.details) {
    if (key == name) return value;
  }
  return {};
}

}  // namespace

TEST_CASE("Every frame of a video comes in its order, with its number and its time") {
  const VideoFolder folder;
  const auto name = GENERATE(as<std::string>{}, "sweep.avi", "sweep.mp4", "sweep.mkv");
  INFO(name);
  const auto source = opened(numbered_video(folder, name, kFrames));
  CHECK(source->outlook().frames_a_second == Approx(10));
  const auto watched = watch(*source);
  CHECK(!watched.failure);
  REQUIRE(watched.numbers.size() == kFrames);
  CHECK(white_corner(watched.first) == 0);
  for (int i = 0; i < kFrames; ++i) {
    const auto at = static_cast<std::size_t>(i);
    CHECK(watched.numbers[at] == i + 1);
    CHECK(watched.seconds[at] == Approx(i / 10.0).margin(0.002));
    CHECK(std::abs(watched.greys[at] - (4 * i + 20)) <= 3);
  }
  const auto after = source->next();
  REQUIRE(after.ok());
  CHECK(!*after);
}

TEST_CASE("How many frames a video holds is said where its container counts them") {
  const VideoFolder folder;
  CHECK(opened(numbered_video(folder, "a.avi", kFrames))->outlook().frames == kFrames);
  CHECK(opened(numbered_video(folder, "a.mp4", kFrames))->outlook().frames == kFrames);
  CHECK(opened(numbered_video(folder, "a.mkv", kFrames))->outlook().frames == 0);
}

// ISO/IEC 14496-12, 8.3.2: (x, y) of the picture is shown at (a x + c y, b x + d y).
TEST_CASE("A telephone's video is turned upright as the matrix in its file says") {
  struct Turn final {
    int a, b, c, d;
    int corner;  // where the top left one is shown
  };
  const auto turn =
      GENERATE(values<Turn>({{1, 0, 0, 1, 0}, {0, 1, -1, 0, 1}, {-1, 0, 0, -1, 2}, {0, -1, 1, 0, 3}}));
  const VideoFolder folder;
  const auto mp4 = bytes_of(numbered_video(folder, "a.mp4", 3));
  const auto source = opened(folder.write("t.mp4", with_matrix(mp4, turn.a, turn.b, turn.c, turn.d)));
  const auto watched = watch(*source);
  REQUIRE(watched.numbers.size() == 3);
  CHECK(watched.first.width == (turn.a == 0 ? 240 : 320));
  CHECK(watched.first.height == (turn.a == 0 ? 320 : 240));
  CHECK(white_corner(watched.first) == turn.corner);
}

TEST_CASE("The time of a frame is its own where frames last differently") {
  const VideoFolder folder;
  const auto mp4 = bytes_of(numbered_video(folder, "a.mp4", kFrames));
  const auto watched = watch(*opened(folder.write("v.mp4", with_variable_rate(mp4, kFrames))));
  REQUIRE(watched.seconds.size() == kFrames);
  for (int i = 0; i < kFrames; ++i) {
    const int slow = std::max(0, i - kFrames / 2);
    CHECK(watched.seconds[static_cast<std::size_t>(i)] ==
          Approx((i - slow) * 0.1 + slow * 0.5).margin(0.005));
  }
}

TEST_CASE("A video that was cut off gives every frame it has, and then says once that it was") {
  const VideoFolder folder;
  const auto name = GENERATE(as<std::string>{}, "a.avi", "a.mkv");
  const auto share = GENERATE(0.15, 0.37, 0.5, 0.83, 0.97);
  INFO(name << " cut at " << share);
  const auto whole = bytes_of(numbered_video(folder, name, kFrames));
  const auto length = static_cast<std::size_t>(share * static_cast<double>(whole.size()));
  const auto path = folder.write("cut-" + name, whole.substr(0, length));
  const auto source = opened(path);
  const auto watched = watch(*source);
  REQUIRE(watched.failure);
  CHECK(watched.failure->code == core::FailureCode::VideoCutOff);
  CHECK(detail(*watched.failure, "path") == path);
  CHECK(detail(*watched.failure, "frames") == std::to_string(watched.numbers.size()));
  if (name == "a.avi") CHECK(watched.numbers.size() >= whole_frames(whole.substr(0, length)));
  if (name == "a.mkv") CHECK(static_cast<double>(watched.numbers.size()) >= share * kFrames - 5);
  const auto after = source->next();
  REQUIRE(after.ok());
  CHECK(!*after);
}

TEST_CASE("An MP4 that was cut off before its index is one of no frames") {
  const VideoFolder folder;
  const auto share = GENERATE(0.05, 0.4, 0.8);
  const auto whole = bytes_of(numbered_video(folder, "a.mp4", kFrames));
  const auto cut = whole.substr(0, static_cast<std::size_t>(share * static_cast<double>(whole.size())));
  const auto watched = watch(*opened(folder.write("cut.mp4", cut)));
  CHECK(watched.numbers.empty());
  REQUIRE(watched.failure);
  CHECK(watched.failure->code == core::FailureCode::VideoCutOff);
  CHECK(detail(*watched.failure, "frames") == "0");
}

TEST_CASE("A video whose frames were lost in a file of the right length is cut off too") {
  const VideoFolder folder;
  auto avi = bytes_of(numbered_video(folder, "a.avi", kFrames));
  std::fill(avi.begin() + static_cast<std::ptrdiff_t>(avi.size() / 2), avi.end() - 1000, '\0');
  const auto watched = watch(*opened(folder.write("holes.avi", avi)));
  CHECK(watched.numbers.size() >= 10);
  REQUIRE(watched.failure);
  CHECK(watched.failure->code == core::FailureCode::VideoCutOff);
  CHECK(detail(*watched.failure, "expected") == std::to_string(kFrames));
}

TEST_CASE("What is no video is refused with the reason") {
  const VideoFolder folder;
  using core::FailureCode;
  check_refused(folder.path("none.mp4"), FailureCode::FileUnreadable, "absent");
  check_refused(folder.path(""), FailureCode::FileUnreadable, "is-folder");
  check_refused("", FailureCode::FileUnreadable, "absent");
  check_refused(folder.write("empty.mp4", ""), FailureCode::VideoUnreadable, "empty");
  check_refused(folder.write("text.mp4", "Swept the shelf on Monday.\n"), FailureCode::VideoUnreadable,
                "unknown-video-format");
  const auto mp4 = bytes_of(numbered_video(folder, "a.mp4", 5));
  check_refused(folder.write("sound.mp4", as_sound(mp4)), FailureCode::VideoUnreadable, "no-video");
}

TEST_CASE("A pipe or a device is refused at once, not waited for") {
  const VideoFolder folder;
  const auto pipe = folder.path("pipe.mp4");
  REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
  check_refused(pipe, core::FailureCode::FileUnreadable, "not-a-file");
  check_refused("/dev/null", core::FailureCode::FileUnreadable, "not-a-file");
}

TEST_CASE("A name is never taken for an address, a pattern or a list of other files") {
  const VideoFolder folder;
  for (const char* name :
       {"http://127.0.0.1:9/a.mp4", "concat:a.avi|a.avi", "file:a.avi", "/dev/video0:a", "-"}) {
    CHECK(refused(name).code == core::FailureCode::FileUnreadable);
  }
  const auto avi = numbered_video(folder, "a.avi", 5);
  check_refused(folder.write("list.mp4", "#EXTM3U\n#EXT-X-TARGETDURATION:1\n#EXTINF:1,\n" + avi + "\n"),
                core::FailureCode::VideoUnreadable, "unknown-video-format");
  check_refused(folder.write("list.avi", "ffconcat version 1.0\nfile a.avi\n"),
                core::FailureCode::VideoUnreadable, "unknown-video-format");
  // Opened for what it holds, whatever its name looks like.
  for (const char* name : {"frame%03d.jpg", "http:a.mp4", "a*.png"}) {
    CHECK(watch(*opened(folder.write(name, bytes_of(avi)))).numbers.size() == 5);
  }
}

TEST_CASE("An animated picture is no video") {
  const VideoFolder folder;
  for (const char* head : {"GIF89a\x10\x01\x10\x01", "RIFF\x24\x10\x00\x01WEBPVP8X"}) {
    check_refused(folder.write("moving.gif", std::string{head} + std::string(400, '\1')),
                  core::FailureCode::VideoUnreadable, "unknown-video-format");
  }
}

TEST_CASE("Dimensions that a file merely claims are refused before a frame is made room for") {
  const VideoFolder folder;
  auto avi = bytes_of(numbered_video(folder, "a.avi", 5));
  // AVI: the stream's format, a BITMAPINFOHEADER: its length 40, then width and height, little endian.
  const auto format = avi.find("strf") + 12;
  avi.replace(format, 8, std::string("\xff\xff\x00\x00\xff\xff\x00\x00", 8));
  const auto door = vision::make_video_door();
  const auto source = door->open(folder.write("huge.avi", avi));
  if (source.ok()) {
    // MJPEG frames say their own size, which stands.
    CHECK(watch(**source).first.width == 320);
  } else {
    CHECK(source.failure().code == core::FailureCode::VideoUnreadable);
  }
  rusage used{};
  getrusage(RUSAGE_SELF, &used);
  CHECK(used.ru_maxrss < 2'000'000);  // KiB
}

TEST_CASE("A resumed video goes on after the frame it is told, with that frame's own time") {
  const VideoFolder folder;
  const auto name = GENERATE(as<std::string>{}, "a.avi", "a.mp4");
  const auto source = opened(numbered_video(folder, name, kFrames));
  REQUIRE(source->skip_to(12).ok());
  const auto watched = watch(*source);
  REQUIRE(watched.numbers.size() == kFrames - 12);
  CHECK(watched.numbers.front() == 13);
  CHECK(watched.seconds.front() == Approx(1.2).margin(0.005));
  CHECK(std::abs(watched.greys.front() - (4 * 12 + 20)) <= 3);
  CHECK(!watched.failure);
}

TEST_CASE("Skipping past the end is the end") {
  const VideoFolder folder;
  const auto source = opened(numbered_video(folder, "a.mp4", 5));
  REQUIRE(source->skip_to(500).ok());
  const auto watched = watch(*source);
  CHECK(watched.numbers.empty());
  CHECK(!watched.failure);
}

TEST_CASE("The decoder's own messages stay away from standard error") {
  const VideoFolder folder;
  const auto whole = bytes_of(numbered_video(folder, "a.avi", kFrames));
  const auto path = folder.write("cut.avi", whole.substr(0, whole.size() / 2));
  const auto heard = folder.path("heard.txt");
  const int kept = dup(STDERR_FILENO);
  REQUIRE(freopen(heard.c_str(), "w", stderr) != nullptr);
  {
    watch(*opened(path));
    watch(*opened(folder.write("a.mp4", bytes_of(path).replace(4, 4, "ftyp"))));
  }
  fflush(stderr);
  dup2(kept, STDERR_FILENO);
  close(kept);
  CHECK(bytes_of(heard).empty());
}

}  // namespace loadlight::vision_tests
