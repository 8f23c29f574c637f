#include "vision/label_text.h"

namespace loadlight::vision_tests {
namespace {

// ISO/IEC 18004 table 7, alphanumeric characters in versions 3 to 6.
constexpr int kRoomM[] = {61, 90, 122, 154};
constexpr int kRoomQ[] = {47, 67, 87, 108};

std::string characters(cv::RNG& rng, int count) {
  constexpr char kAlphabet[] = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
  std::string text;
  for (int i = 0; i < count; ++i) text += kAlphabet[rng.uniform(0, 32)];
  return text;
}

std::string number(cv::RNG& rng, int digits) {
  std::string text(1, static_cast<char>('1' + rng.uniform(0, 9)));
  for (int i = 1; i < digits; ++i) text += static_cast<char>('0' + rng.uniform(0, 10));
  return text;
}

std::string day(cv::RNG& rng) {
  const int of_month = rng.uniform(10, 29);
  return "20" + std::to_string(rng.uniform(26, 36)) + "0" + std::to_string(rng.uniform(1, 10)) +
         std::to_string(of_month);
}

std::string shelf_tag(cv::RNG& rng, int room) {
  return "LLS1.L" + characters(rng, rng.uniform(4, room - 20)) + ".Z" + characters(rng, 13);
}

std::string package_label(cv::RNG& rng, bool short_codes, bool use_by) {
  const auto length = [&](int most) { return short_codes ? 1 : rng.uniform(1, most + 1); };
  std::string text = "LL1.S" + characters(rng, 10) + ".1T" + characters(rng, length(3));
  text += "-" + number(rng, length(5)) + ".16D" + day(rng);
  if (use_by) text += ".14D" + day(rng);
  text += ".H" + characters(rng, length(4)) + ".P" + characters(rng, length(8));
  return text + ".B" + characters(rng, length(3)) + ".Z" + characters(rng, 13);
}

}  // namespace

LabelForm label_form(cv::RNG& rng) {
  const int version = rng.uniform(3, 7);
  return {version, rng.uniform(0, 2) == 0 ? Level::M : Level::Q};
}

std::string label_text(LabelForm form, cv::RNG& rng) {
  const int room = (form.level == Level::M ? kRoomM : kRoomQ)[form.version - 3];
  if (room < 57) return shelf_tag(rng, room);
  for (;;) {
    const auto text = package_label(rng, room < 65, room >= 70 && rng.uniform(0, 3) > 0);
    if (static_cast<int>(text.size()) <= room) return text;
  }
}

}  // namespace loadlight::vision_tests
