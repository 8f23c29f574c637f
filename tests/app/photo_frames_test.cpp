#include "loadlight/app/photo_frames.h"

#include <catch2/catch.hpp>

namespace loadlight::app_tests {
namespace {

// Every file is a picture as wide as its path is long, but for those named broken.
class NamedPictures final : public port::PictureSource {
 public:
  core::Result<port::GrayPicture> read_file(const std::string& path) const override {
    if (path.find("broken") != std::string::npos) {
      return core::Failure{core::FailureCode::ImageUnreadable, {{"path", path}, {"problem", "damaged"}}, {}};
    }
    const int width = static_cast<int>(path.size());
    return port::GrayPicture{width, 1, std::vector<std::uint8_t>(path.size())};
  }
  core::Result<port::GrayPicture> decode(std::span<const std::uint8_t>) const override {
    return core::Failure{core::FailureCode::Internal, {}, {}};
  }
  std::string jpeg(port::GrayView, int) const override { return {}; }
};

std::vector<port::Frame> all_of(port::FrameSource& source) {
  std::vector<port::Frame> frames;
  for (auto frame = source.next(); frame && *frame; frame = source.next())
    frames.push_back(std::move(**frame));
  return frames;
}

std::vector<std::string> files_of(const std::vector<port::Frame>& frames) {
  std::vector<std::string> files;
  for (const auto& frame : frames) files.push_back(frame.file);
  return files;
}

}  // namespace

TEST_CASE("Photographs come one by one in the order in which people count, each standing apart") {
  const NamedPictures pictures;
  const auto source =
      app::open_photos(pictures, "shelf", {"IMG_10.jpg", "IMG_9.JPG", "a.png", "IMG_009.jpg"}, {});
  REQUIRE(source.ok());
  CHECK((*source)->outlook().frames == 4);
  const auto frames = all_of(**source);
  CHECK(files_of(frames) == std::vector<std::string>{"IMG_9.JPG", "IMG_009.jpg", "IMG_10.jpg", "a.png"});
  for (std::size_t i = 0; i < frames.size(); ++i) {
    CHECK(frames[i].apart);
    CHECK(frames[i].number == static_cast<int>(i) + 1);
    CHECK(frames[i].picture.width == static_cast<int>(("shelf/" + frames[i].file).size()));
  }
}

TEST_CASE("One that cannot be read is told and left out, and the others keep their numbers") {
  const NamedPictures pictures;
  std::vector<std::string> told;
  const auto source =
      app::open_photos(pictures, "shelf", {"1.jpg", "2-broken.jpg", "3.jpg"},
                       [&](const core::Failure& failure) { told.push_back(failure.details.front().second); });
  REQUIRE(source.ok());
  const auto frames = all_of(**source);
  CHECK(files_of(frames) == std::vector<std::string>{"1.jpg", "3.jpg"});
  CHECK(frames.back().number == 3);
  CHECK(told == std::vector<std::string>{"shelf/2-broken.jpg"});
}

TEST_CASE("A folder without a photograph is refused by name") {
  const NamedPictures pictures;
  const auto source = app::open_photos(pictures, "letters", {"notes.txt", ".hidden.jpg", "Thumbs.db"}, {});
  REQUIRE(!source.ok());
  CHECK(source.failure().code == core::FailureCode::FolderWithoutPictures);
  CHECK(source.failure().details == core::Details{{"path", "letters"}});
}

TEST_CASE("Photographs go on after the number they are told") {
  const NamedPictures pictures;
  const auto source = app::open_photos(pictures, "shelf", {"1.jpg", "2.jpg", "3.jpg"}, {});
  REQUIRE(source.ok());
  REQUIRE((*source)->skip_to(2).ok());
  REQUIRE((*source)->skip_to(1).ok());  // never back
  CHECK(files_of(all_of(**source)) == std::vector<std::string>{"3.jpg"});
  REQUIRE((*source)->skip_to(99).ok());
  CHECK(all_of(**source).empty());
}

TEST_CASE("Names are put in one order whatever they hold") {
  const std::vector<std::string> ordered{"",
                                         "1",
                                         "01.x",
                                         "1.x",
                                         "2",
                                         "10",
                                         "a",
                                         "a1b2",
                                         "a1b10",
                                         "a2",
                                         "a99999999999999999999",
                                         "a100000000000000000000",
                                         "b"};
  for (std::size_t i = 0; i < ordered.size(); ++i) {
    for (std::size_t j = 0; j < ordered.size(); ++j) {
      INFO(ordered[i] << " before " << ordered[j]);
      CHECK(app::comes_before(ordered[i], ordered[j]) == (i < j));
    }
  }
}

}  // namespace loadlight::app_tests
