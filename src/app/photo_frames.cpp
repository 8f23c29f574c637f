#include "loadlight/app/photo_frames.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <string_view>

namespace loadlight::app {
namespace {

constexpr std::array<std::string_view, 13> kEndings{".jpg",  ".jpeg", ".png", ".webp", ".tif",
                                                    ".tiff", ".bmp",  ".pbm", ".pgm",  ".ppm",
                                                    ".heic", ".heif", ".gif"};

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

// The run of digits at `at`, without leading zeros, and how far it goes.
struct Number final {
  std::string_view digits;
  std::size_t end;
};

Number number_at(std::string_view text, std::size_t at) {
  std::size_t end = at;
  while (end < text.size() && is_digit(text[end])) ++end;
  const auto first = std::min(text.find_first_not_of('0', at), end);
  return {text.substr(first, end - first), end};
}

class Photos final : public port::FrameSource {
 public:
  Photos(const port::PictureSource& pictures, std::string folder, std::vector<std::string> names,
         PhotoSkipped skipped)
      : pictures_(pictures),
        folder_(std::move(folder)),
        names_(std::move(names)),
        skipped_(std::move(skipped)) {}

  core::Result<std::optional<port::Frame>> next() override {
    while (taken_ < names_.size()) {
      const std::string& name = names_[taken_++];
      auto picture = pictures_.read_file(folder_ + "/" + name);
      if (picture) {
        return std::optional<port::Frame>{{std::move(*picture), static_cast<int>(taken_), 0, name, true}};
      }
      if (skipped_) skipped_(picture.failure());
    }
    return std::optional<port::Frame>{};
  }

  core::Result<void> skip_to(int number) override {
    const auto wanted = static_cast<std::size_t>(std::max(0, number));
    taken_ = std::max(taken_, std::min(wanted, names_.size()));
    return {};
  }

  port::FrameOutlook outlook() const override { return {static_cast<int>(names_.size()), 0}; }

 private:
  const port::PictureSource& pictures_;
  std::string folder_;
  std::vector<std::string> names_;
  PhotoSkipped skipped_;
  std::size_t taken_ = 0;
};

}  // namespace

bool is_photo_name(const std::string& name) {
  std::string small = name;
  std::transform(small.begin(), small.end(), small.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  if (small.starts_with('.')) return false;
  return std::any_of(kEndings.begin(), kEndings.end(),
                     [&](std::string_view ending) { return small.ends_with(ending); });
}

bool comes_before(const std::string& one, const std::string& other) {
  std::size_t i = 0;
  std::size_t j = 0;
  while (i < one.size() && j < other.size()) {
    if (is_digit(one[i]) && is_digit(other[j])) {
      const Number a = number_at(one, i);
      const Number b = number_at(other, j);
      if (a.digits.size() != b.digits.size()) return a.digits.size() < b.digits.size();
      if (a.digits != b.digits) return a.digits < b.digits;
      i = a.end;
      j = b.end;
    } else {
      if (one[i] != other[j]) return one[i] < other[j];
      ++i;
      ++j;
    }
  }
  const bool one_ended = i == one.size();
  const bool other_ended = j == other.size();
  return one_ended != other_ended ? one_ended : one < other;
}

core::Result<std::unique_ptr<port::FrameSource>> open_photos(const port::PictureSource& pictures,
                                                             const std::string& folder,
                                                             std::vector<std::string> names,
                                                             PhotoSkipped skipped) {
  std::erase_if(names, [](const std::string& name) { return !is_photo_name(name); });
  if (names.empty()) return core::Failure{core::FailureCode::FolderWithoutPictures, {{"path", folder}}, {}};
  std::sort(names.begin(), names.end(), comes_before);
  return std::unique_ptr<port::FrameSource>(
      std::make_unique<Photos>(pictures, folder, std::move(names), std::move(skipped)));
}

}  // namespace loadlight::app
