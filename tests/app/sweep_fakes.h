// A shelf played by hand: what each frame shows is written down, and the reader reads it off.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "loadlight/app/audit_shelf.h"

namespace loadlight::tests {

// Symbols and lost places by frame number.
struct PlayedFrame final {
  std::vector<port::SymbolSighting> symbols;
  std::vector<port::Corners> unread;
  std::vector<port::LostPlace> lost;  // that leave the view in this frame
  bool apart = false;
  double shift_x = 0;
  double module = 3;
  double brightness = 128;
};

inline port::Corners square(double left, double top, double side = 100) {
  return {{{left, top}, {left + side, top}, {left + side, top + side}, {left, top + side}}};
}

class PlayedShelf final {
 public:
  static constexpr int kWidth = 1000;
  static constexpr int kHeight = 600;

  std::vector<PlayedFrame> frames;  // the first is frame 1

  // A frame that shows these texts side by side, far enough apart that no label lies on another.
  PlayedFrame& show(const std::vector<std::string>& texts) {
    PlayedFrame frame;
    double left = 10;
    for (const std::string& text : texts) {
      frame.symbols.push_back({text, square(left, 10)});
      left += 3000;
    }
    frames.push_back(std::move(frame));
    return frames.back();
  }
};

class PlayedFrames final : public port::FrameSource {
 public:
  explicit PlayedFrames(const PlayedShelf& shelf) : shelf_(shelf) {}

  core::Result<std::optional<port::Frame>> next() override {
    if (breaks_after != 0 && at_ == breaks_after) return core::Failure{breaks_with, {}, {}};
    if (at_ == static_cast<int>(shelf_.frames.size())) return std::optional<port::Frame>{};
    ++at_;
    ++given;
    port::Frame frame;
    frame.number = at_;
    frame.seconds = at_ / 30.0;
    frame.apart = shelf_.frames[static_cast<std::size_t>(at_ - 1)].apart;
    if (frame.apart) frame.file = "photo-" + std::to_string(at_) + ".jpg";
    frame.picture = {PlayedShelf::kWidth, PlayedShelf::kHeight, {}};
    frame.picture.pixels.resize(static_cast<std::size_t>(PlayedShelf::kWidth) * PlayedShelf::kHeight);
    frame.picture.pixels.front() = static_cast<std::uint8_t>(at_);  // how the reader knows the frame
    return std::optional{std::move(frame)};
  }
  core::Result<void> skip_to(int number) override {
    at_ = std::max(at_, number);
    return {};
  }
  port::FrameOutlook outlook() const override { return {static_cast<int>(shelf_.frames.size()), 30}; }

  int given = 0;
  int breaks_after = 0;  // 0: never
  core::FailureCode breaks_with = core::FailureCode::CameraUnavailable;

 private:
  const PlayedShelf& shelf_;
  int at_ = 0;
};

class PlayedSweep final : public port::Sweep {
 public:
  explicit PlayedSweep(const PlayedShelf& shelf) : shelf_(shelf) {}

  port::SweepView see(const port::Frame& frame) override {
    const PlayedFrame& played = shelf_.frames[static_cast<std::size_t>(frame.number - 1)];
    port::SweepView view;
    for (const port::SymbolSighting& symbol : played.symbols) {
      view.symbols.push_back({1, symbol.text, symbol.corners, false});
    }
    view.lost = played.lost;
    view.shift_x = played.shift_x;
    view.module = played.module;
    view.brightness = played.brightness;
    return view;
  }
  port::SweepView end() override { return {}; }

 private:
  const PlayedShelf& shelf_;
};

// Matches what the test says: by the first pixel of a lost place's picture.
class PlayedReader final : public port::SymbolReader {
 public:
  explicit PlayedReader(const PlayedShelf& shelf) : shelf_(shelf) {}

  port::Look look(port::GrayView picture, const port::ReadBudget& budget) const override {
    efforts.push_back(budget.effort);
    const PlayedFrame& played = shelf_.frames[static_cast<std::size_t>(picture.pixels[0] - 1)];
    return {played.symbols, played.unread};
  }
  port::Look look(std::span<const port::GrayView>, const port::ReadBudget&) const override { return {}; }
  std::optional<port::SymbolMatch> match(port::GrayView picture, const port::Corners& place,
                                         std::span<const core::SymbolGrid> candidates) const override {
    most_candidates = std::max(most_candidates, candidates.size());
    const auto found = matches.find(picture.pixels[0]);
    if (found == matches.end() || found->second.candidate >= candidates.size()) return std::nullopt;
    port::SymbolMatch match = found->second;
    match.corners = place;
    return match;
  }
  std::optional<core::PrintMeasures> measure(port::GrayView, const port::SymbolSighting&) const override {
    return std::nullopt;
  }
  std::unique_ptr<port::Sweep> begin_sweep(const port::SweepOptions&) const override {
    return std::make_unique<PlayedSweep>(shelf_);
  }

  std::map<std::uint8_t, port::SymbolMatch> matches;
  mutable std::vector<port::Effort> efforts;
  mutable std::size_t most_candidates = 0;

 private:
  const PlayedShelf& shelf_;
};

// JPEGs that say only how large their picture was.
class PlainPictures final : public port::PictureSource {
 public:
  core::Result<port::GrayPicture> read_file(const std::string&) const override {
    return core::Failure{core::FailureCode::FileUnreadable, {}, {}};
  }
  core::Result<port::GrayPicture> decode(std::span<const std::uint8_t>) const override {
    return core::Failure{core::FailureCode::ImageUnreadable, {}, {}};
  }
  std::string jpeg(port::GrayView view, int longest) const override {
    return "jpeg " + std::to_string(view.width) + "x" + std::to_string(view.height) + " at most " +
           std::to_string(longest);
  }
};

inline port::LostPlace lost_place(std::uint8_t mark, int frame) {
  port::LostPlace place;
  place.frame = frame;
  place.corners = square(200, 200);
  place.picture = {20, 20, std::vector<std::uint8_t>(400, mark)};
  place.in_picture = square(5, 5, 10);
  return place;
}

}  // namespace loadlight::tests
