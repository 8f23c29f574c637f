#include "app/page_text.h"

#include <algorithm>
#include <cstdint>

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;
using label::TextLine;
using label::TextStyle;

// In ems: from one baseline to the next, and from a line's top to its baseline.
constexpr double kPitch = 1.3;
constexpr double kRise = 1.0;

constexpr std::size_t kLongestPiece = 3000;  // bytes: a gauge takes no text of any length
constexpr int kMostSubstitutes = 200;        // different characters of one text that no font has

double rise_of(const TextLine& line, const TextStyle& style) {
  return std::max(kRise * style.em_mm(), line.ink_above);
}

bool continues(char byte) {
  return (static_cast<unsigned char>(byte) & 0xC0) == 0x80;
}

// The length of the well-formed character that `text` begins with (RFC 3629); 0 if there is none.
std::size_t character_length(std::string_view text) {
  const auto lead = static_cast<unsigned char>(text.front());
  if (lead < 0x80) return 1;
  const std::size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || text.size() < length) return 0;
  if (!std::all_of(text.begin() + 1, text.begin() + static_cast<std::ptrdiff_t>(length), continues)) return 0;
  const auto second = static_cast<unsigned char>(text[1]);
  const bool overlong = (lead == 0xE0 && second < 0xA0) || (lead == 0xF0 && second < 0x90);
  const bool beyond = (lead == 0xED && second > 0x9F) || (lead == 0xF4 && second > 0x8F);
  return overlong || beyond ? 0 : length;
}

// C0 and C1 codes, line and paragraph separators, and the codes that turn directions (U+202A to U+202E,
// U+2066 to U+2069).
bool is_invisible(std::string_view character) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(character[i]); };
  if (character.size() == 1) return byte(0) < 0x20 || byte(0) == 0x7F;
  if (character.size() == 2) return byte(0) == 0xC2 && byte(1) < 0xA0;
  if (character.size() != 3 || byte(0) != 0xE2) return false;
  if (byte(1) == 0x80) return byte(2) >= 0xA8 && byte(2) <= 0xAE;
  return byte(1) == 0x81 && byte(2) >= 0xA6 && byte(2) <= 0xA9;
}

// Up to kLongestPiece bytes from the front, cut at a space if there is one.
std::string_view first_piece(std::string_view text) {
  if (text.size() <= kLongestPiece) return text;
  const std::size_t space = text.rfind(' ', kLongestPiece);
  if (space != std::string_view::npos && space > 0) return text.substr(0, space);
  std::size_t end = kLongestPiece;
  while (end > 1 && continues(text[end])) --end;
  return text.substr(0, end);
}

void replace_all(std::string& text, const std::string& from, const std::string& to) {
  for (std::size_t at = 0; (at = text.find(from, at)) != std::string::npos; at += to.size()) {
    text.replace(at, from.size(), to);
  }
}

// Puts its code where the character stands that no font has; false if the failure is of another kind.
bool substitute(const Failure& failure, std::string& text) {
  if (failure.code != FailureCode::GlyphMissing) return false;
  std::string character, code;
  for (const auto& [name, value] : failure.details) (name == "character" ? character : code) = value;
  if (character.empty() || code.empty() || text.find(character) == std::string::npos) return false;
  replace_all(text, character, "[" + code + "]");
  return true;
}

// One line where the text fits on it: most do, and breaking costs more than measuring.
Result<std::vector<TextLine>> lines_of(std::string_view text, TextStyle style, double width,
                                       const label::TextGauge& gauge) {
  auto line = gauge.measure(text, style);
  if (!line) return line.failure();
  if (line->width <= width) return std::vector{*std::move(line)};
  return gauge.break_lines(text, style, width, label::BreakAt::AnyCharacter);
}

Result<std::vector<TextLine>> legible_lines(std::string text, TextStyle style, double width,
                                            const label::TextGauge& gauge) {
  auto lines = lines_of(text, style, width, gauge);
  for (int i = 0; !lines && i < kMostSubstitutes && substitute(lines.failure(), text); ++i) {
    lines = lines_of(text, style, width, gauge);
  }
  return lines;
}

}  // namespace

double SetText::height_of(const TextLine& line) const {
  const double descent = std::max((kPitch - kRise) * style.em_mm(), line.ink_below);
  return rise_of(line, style) + descent;
}

double SetText::height() const {
  double height = 0;
  for (const TextLine& line : lines) height += height_of(line);
  return height;
}

std::string legible(std::string_view text) {
  std::string clean;
  clean.reserve(text.size());
  while (!text.empty()) {
    const std::size_t length = character_length(text);
    const std::string_view character = text.substr(0, std::max<std::size_t>(length, 1));
    if (length == 0) {
      clean += '?';
    } else if (is_invisible(character)) {
      clean += ' ';
    } else {
      clean += character;
    }
    text.remove_prefix(character.size());
  }
  return clean;
}

Result<SetText> set_text(std::string_view text, TextStyle style, double width,
                         const label::TextGauge& gauge) {
  SetText set{style, {}};
  const std::string clean = legible(text);
  for (std::string_view rest = clean; !rest.empty();) {
    const std::string_view piece = first_piece(rest);
    auto lines = legible_lines(std::string{piece}, style, width, gauge);
    if (!lines) return lines.failure();
    set.lines.insert(set.lines.end(), lines->begin(), lines->end());
    rest.remove_prefix(piece.size());
  }
  return set;
}

void draw_text(const SetText& text, double x, double y, double width, Side side, label::Page& page) {
  for (const TextLine& line : text.lines) {
    const bool at_end = (side == Side::End) != line.right_to_left;
    const double left = at_end ? x + width - line.width : x;
    if (!line.text.empty()) {
      page.items.emplace_back(label::DrawnText{left, y + rise_of(line, text.style), text.style, line.text});
    }
    y += text.height_of(line);
  }
}

}  // namespace loadlight::app
