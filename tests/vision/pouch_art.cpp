#include "vision/pouch_art.h"

#include <opencv2/imgproc.hpp>
#include <stdexcept>
#include <vector>

#include "vision/drawn_symbol.h"

namespace loadlight::vision_tests {
namespace {

constexpr int kQuietModules = 4;

std::string characters(cv::RNG& rng, int count) {
  constexpr char kAlphabet[] = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
  std::string text;
  for (int i = 0; i < count; ++i) text += kAlphabet[rng.uniform(0, 32)];
  return text;
}

// A line of print as a label bears it, black, `height` artwork pixels high.
void print_line(cv::Mat& art, const std::string& text, cv::Point at, double height) {
  const double scale = height / 22.0;  // the drawn capitals are 22 pixels high at scale 1
  cv::putText(art, text, at, cv::FONT_HERSHEY_SIMPLEX, scale, cv::Scalar::all(25),
              std::max(1, static_cast<int>(scale * 2.2)), cv::LINE_AA);
}

void print_lines(cv::Mat& art, cv::Point at, cv::RNG& rng) {
  const std::vector<std::string> lines{
      "EXAM SET " + characters(rng, 2), "S2-" + std::to_string(rng.uniform(1, 999)),
      "2031-0" + std::to_string(rng.uniform(1, 9)) + "-17", "OP " + characters(rng, 3),
      characters(rng, 3) + " " + characters(rng, 4) + " " + characters(rng, 3)};
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const int y = at.y + static_cast<int>(i) * 7 * kArtPerModule;
    print_line(art, lines[i], {at.x, y}, (i == 0 ? 4.0 : 3.0) * kArtPerModule);
  }
}

}  // namespace

std::string label_like_text(cv::RNG& rng) {
  std::string text = "LL1.S" + characters(rng, 10) + ".1TS" + std::to_string(rng.uniform(1, 9)) + "-" +
                     std::to_string(rng.uniform(1, 9999)) + ".16D20310412";
  if (rng.uniform(0, 3) > 0) text += ".14D20320410";
  text += ".H" + characters(rng, rng.uniform(1, 4)) + ".P" + characters(rng, rng.uniform(3, 8));
  return text + ".B" + characters(rng, rng.uniform(1, 3)) + ".Z" + characters(rng, 13);
}

cv::Mat label_like_symbol(const std::string& text, cv::RNG& rng) {
  struct Form final {
    int version;
    Level level;
  };
  constexpr std::array<Form, 4> kForms{{{4, Level::M}, {5, Level::M}, {5, Level::Q}, {6, Level::Q}}};
  const auto first = static_cast<std::size_t>(rng.uniform(0, 4));
  for (std::size_t i = first; i < kForms.size(); ++i) {
    try {
      return drawn_symbol(text, kForms[i].version, kForms[i].level);
    } catch (const std::invalid_argument&) {
      // Too long for this form: the next holds more, or the last held it.
    }
  }
  return drawn_symbol(text, 6, Level::M);
}

PouchArt label_art(const std::string& text, cv::RNG& rng) {
  return label_art_around(label_like_symbol(text, rng), rng);
}

PouchArt label_art_around(const cv::Mat& modules, cv::RNG& rng) {
  const cv::Mat symbol = enlarged(modules, kArtPerModule, kQuietModules);
  const int height = symbol.rows;
  PouchArt art{cv::Mat(height, 2 * height, CV_8UC3, cv::Scalar(246, 248, 250)),
               {kQuietModules * kArtPerModule, kQuietModules * kArtPerModule},
               height / kArtPerModule - 2 * kQuietModules};
  cv::Mat colour;
  cv::cvtColor(symbol, colour, cv::COLOR_GRAY2BGR);
  colour = cv::max(colour, cv::Scalar::all(18));  // thermal black is not quite black
  colour = cv::min(colour, cv::Scalar(246, 248, 250));
  colour.copyTo(art.bgr(cv::Rect(0, 0, height, height)));
  print_lines(art.bgr, {height + 2 * kArtPerModule, 8 * kArtPerModule}, rng);
  return art;
}

PouchArt pouch_art(const std::string& text, cv::RNG& rng) { return on_pouch(label_art(text, rng), rng); }

PouchArt on_pouch(const PouchArt& label, cv::RNG& rng) {
  const int border = 16 * kArtPerModule;
  const cv::Scalar film(rng.uniform(190, 235), rng.uniform(190, 225), rng.uniform(170, 215));
  PouchArt art = label;
  art.bgr = cv::Mat(label.bgr.rows + 5 * border, label.bgr.cols + 2 * border, CV_8UC3, film);
  for (int y = 4; y < border / 2; y += 12) {  // the seal's ribs
    cv::line(art.bgr, {0, y}, {art.bgr.cols, y}, film * 0.86, 3);
  }
  const cv::Point at(border, rng.uniform(border, 3 * border));
  label.bgr.copyTo(art.bgr(cv::Rect(at, label.bgr.size())));
  art.symbol_top_left += cv::Point2d(at.x, at.y);
  return art;
}

}  // namespace loadlight::vision_tests
