#include "web/posted_frames.h"

#include <catch2/catch.hpp>
#include <thread>

namespace loadlight::tests {
namespace {

using web::PostedFrames;
using namespace std::chrono_literals;

port::GrayPicture picture(int width = 4) {
  return {width, 2, std::vector<std::uint8_t>(static_cast<std::size_t>(width) * 2)};
}

port::Frame next_of(PostedFrames& frames) {
  auto frame = frames.next();
  REQUIRE(frame);
  REQUIRE(*frame);
  return std::move(**frame);
}

}  // namespace

TEST_CASE("Posted frames come out numbered in the order they were put, photographs apart and by name") {
  PostedFrames frames{5s};
  CHECK(frames.put(picture(4)) == 1);
  CHECK(frames.put(picture(6), "IMG_2.jpg") == 2);
  const auto first = next_of(frames), second = next_of(frames);
  CHECK(first.number == 1);
  CHECK(first.picture.width == 4);
  CHECK_FALSE(first.apart);
  CHECK(second.number == 2);
  CHECK(second.apart);
  CHECK(second.file == "IMG_2.jpg");
  CHECK(second.seconds >= first.seconds);
}

TEST_CASE("No more than two frames wait, so that memory stays bounded") {
  PostedFrames frames{5s};
  REQUIRE(frames.put(picture()));
  REQUIRE(frames.put(picture()));
  CHECK_FALSE(frames.put(picture()));
  next_of(frames);
  CHECK(frames.put(picture()) == 3);
}

TEST_CASE("A frame that is put wakes the audit that waits for it") {
  PostedFrames frames{30s};
  std::thread sender{[&frames] { frames.put(picture()); }};
  CHECK(next_of(frames).number == 1);
  sender.join();
}

TEST_CASE("Finished frames end once what waits was taken, and take no more") {
  PostedFrames frames{5s};
  REQUIRE(frames.put(picture()));
  frames.finish();
  CHECK_FALSE(frames.put(picture()));
  CHECK(next_of(frames).number == 1);
  const auto after = frames.next();
  REQUIRE(after);
  CHECK_FALSE(after->has_value());
}

TEST_CASE("A sender that is gone cuts the frames off once what waits was taken") {
  PostedFrames frames{5s};
  REQUIRE(frames.put(picture()));
  frames.drop();
  CHECK(next_of(frames).number == 1);
  CHECK(frames.next().failure().code == core::FailureCode::SweepCutOff);
  frames.finish();  // too late to be an end
  CHECK(frames.next().failure().code == core::FailureCode::SweepCutOff);
}

TEST_CASE("A sender that sends nothing any more counts as gone") {
  PostedFrames frames{0s};
  CHECK(frames.next().failure().code == core::FailureCode::SweepCutOff);
  CHECK_FALSE(frames.put(picture()));
}

TEST_CASE("Frames of a sweep that is gone on with are counted on from where it was") {
  PostedFrames frames{5s};
  REQUIRE(frames.put(picture()));
  REQUIRE(frames.skip_to(40));
  CHECK(next_of(frames).number == 41);
  CHECK(frames.put(picture()) == 42);
  REQUIRE(frames.skip_to(10));
  CHECK(next_of(frames).number == 42);
}

}  // namespace loadlight::tests
