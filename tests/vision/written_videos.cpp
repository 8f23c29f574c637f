#include "vision/written_videos.h"

#include <catch2/catch.hpp>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <opencv2/videoio.hpp>

namespace loadlight::vision_tests {
namespace {

void put(std::string& bytes, std::size_t at, std::uint32_t value) {
  for (std::size_t i = 0; i < 4; ++i) bytes[at + i] = static_cast<char>(value >> (24 - 8 * i) & 0xff);
}

std::uint32_t get(const std::string& bytes, std::size_t at) {
  std::uint32_t value = 0;
  for (std::size_t i = 0; i < 4; ++i) value = value << 8 | static_cast<unsigned char>(bytes[at + i]);
  return value;
}

// Where a box's own bytes begin, after length and type.
std::size_t inside(const std::string& bytes, std::string_view type) {
  const auto at = bytes.rfind(type);
  REQUIRE(at != std::string::npos);
  return at + 4;
}

int codec_of(std::string_view name) {
  return name.ends_with(".avi") ? cv::VideoWriter::fourcc('M', 'J', 'P', 'G')
                                : cv::VideoWriter::fourcc('m', 'p', '4', 'v');
}

}  // namespace

VideoFolder::VideoFolder() {
  std::string name = (std::filesystem::temp_directory_path() / "loadlight-video-XXXXXX").string();
  REQUIRE(mkdtemp(name.data()) != nullptr);
  folder_ = name;
}

VideoFolder::~VideoFolder() {
  std::error_code ignored;
  std::filesystem::remove_all(folder_, ignored);
}

std::string VideoFolder::write(std::string_view name, std::string_view bytes) const {
  const auto where = path(name);
  std::ofstream(where, std::ios::binary).write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  return where;
}

std::string numbered_video(const VideoFolder& folder, std::string_view name, int frames) {
  const auto where = folder.path(name);
  cv::VideoWriter writer(where, codec_of(name), 10, {320, 240});
  REQUIRE(writer.isOpened());
  for (int i = 0; i < frames; ++i) {
    cv::Mat frame(240, 320, CV_8UC3, cv::Scalar::all(40));
    frame(cv::Rect(0, 0, 80, 60)) = cv::Scalar::all(250);
    frame(cv::Rect(120, 80, 80, 80)) = cv::Scalar::all(4 * i + 20);
    writer.write(frame);
  }
  return where;
}

std::string bytes_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

std::string with_matrix(std::string mp4, int a, int b, int c, int d) {
  // Version and flags, five numbers, two reserved, layer, group, volume and a reserved one come before it.
  const auto matrix = inside(mp4, "tkhd") + 4 + 5 * 4 + 2 * 4 + 4 * 2;
  const auto whole = [](int value) { return static_cast<std::uint32_t>(value * 65536); };
  put(mp4, matrix, whole(a));
  put(mp4, matrix + 4, whole(b));
  put(mp4, matrix + 12, whole(c));
  put(mp4, matrix + 16, whole(d));
  return mp4;
}

std::string with_variable_rate(std::string mp4, int frames) {
  // Time to sample: version, a count of entries, and for each how many frames last how long.
  const auto table = inside(mp4, "stts");
  REQUIRE(get(mp4, table + 4) == 1);
  const auto lasting = get(mp4, table + 12);
  const auto half = static_cast<std::uint32_t>(frames / 2);
  put(mp4, table + 4, 2);
  put(mp4, table + 8, half);
  mp4.insert(table + 16, 8, '\0');
  put(mp4, table + 16, static_cast<std::uint32_t>(frames) - half);
  put(mp4, table + 20, 5 * lasting);
  mp4.replace(inside(mp4, "edts") - 4, 4, "free");  // the edit ends where the video did
  for (const auto* box : {"stts", "stbl", "minf", "mdia", "trak", "moov"}) {
    const auto length = inside(mp4, box) - 8;
    put(mp4, length, get(mp4, length) + 8);
  }
  return mp4;
}

std::string as_sound(std::string mp4) {
  const auto handler = mp4.find("hdlr", mp4.find("moov"));  // another one names the writer
  mp4.replace(handler + 12, 4, "soun");
  return mp4;
}

}  // namespace loadlight::vision_tests
