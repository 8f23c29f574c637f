#include "report/html.h"

#include <algorithm>
#include <cstdint>

namespace loadlight::report {
namespace {

constexpr const char* kReplacement = "\xEF\xBF\xBD";  // U+FFFD

struct Character final {
  std::size_t bytes = 1;
  std::int32_t code = -1;  // -1: not UTF-8
};

// RFC 3629: shortest form, no surrogates, up to U+10FFFF.
Character first_character(std::string_view text) {
  const auto lead = static_cast<unsigned char>(text.front());
  if (lead < 0x80) return {1, lead};
  const std::size_t bytes = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || text.size() < bytes) return {};
  std::int32_t code = lead & (0x7F >> bytes);
  for (std::size_t i = 1; i < bytes; ++i) {
    const auto next = static_cast<unsigned char>(text[i]);
    if ((next & 0xC0) != 0x80) return {};
    code = code << 6 | (next & 0x3F);
  }
  constexpr std::int32_t kLeast[] = {0, 0, 0x80, 0x800, 0x10000};
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  if (code < kLeast[bytes] || code > 0x10FFFF || surrogate) return {};
  return {bytes, code};
}

// Line breaks and tabs are control characters too: a space stands for them.
bool is_invisible(std::int32_t code) {
  return code < 0x20 || (code >= 0x7F && code < 0xA0) || (code >= 0x2028 && code <= 0x202E) ||
         (code >= 0x2066 && code <= 0x2069) || code == 0xFFFE || code == 0xFFFF;
}

constexpr std::pair<char, std::string_view> kEntities[] = {
    {'&', "&amp;"}, {'<', "&lt;"}, {'>', "&gt;"}, {'"', "&quot;"}, {'\'', "&#39;"}};

std::string_view entity_of(std::int32_t code) {
  for (const auto& [character, entity] : kEntities) {
    if (code == character) return entity;
  }
  return "";
}

// RFC 4648, section 4.
std::string base64(std::string_view bytes) {
  constexpr const char* kDigits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const std::size_t count = std::min<std::size_t>(3, bytes.size() - i);
    std::uint32_t group = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      group = group << 8 | (k < count ? static_cast<unsigned char>(bytes[i + k]) : 0U);
    }
    for (std::size_t k = 0; k < 4; ++k) out += k <= count ? kDigits[group >> (18 - 6 * k) & 63] : '=';
  }
  return out;
}

}  // namespace

std::string escaped_html(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const Character next = first_character(text);
    const std::string_view entity = entity_of(next.code);
    if (next.code < 0) {
      out += kReplacement;
    } else if (is_invisible(next.code)) {
      out += ' ';
    } else if (entity.empty()) {
      out += text.substr(0, next.bytes);
    } else {
      out += entity;
    }
    text.remove_prefix(next.bytes);
  }
  return out;
}

Html& Html::raw(Markup markup) {
  out_ += markup.view();
  return *this;
}

void Html::start(Markup tag, Attributes attributes) {
  out_ += '<';
  out_ += tag.view();
  for (const Attribute& each : attributes) {
    out_ += ' ';
    out_ += each.name.view();
    out_ += "=\"";
    out_ += escaped_html(each.value);
    out_ += '"';
  }
  out_ += '>';
}

Html& Html::open(Markup tag, Attributes attributes) {
  start(tag, attributes);
  out_ += '\n';
  return *this;
}

Html& Html::close(Markup tag) {
  out_ += "</";
  out_ += tag.view();
  out_ += ">\n";
  return *this;
}

Html& Html::text(std::string_view text) {
  out_ += escaped_html(text);
  return *this;
}

Html& Html::element(Markup tag, std::string_view text, Attributes attributes) {
  start(tag, attributes);
  out_ += escaped_html(text);
  return close(tag);
}

std::string jpeg_data_uri(std::string_view bytes) {
  return "data:image/jpeg;base64," + base64(bytes);
}

}  // namespace loadlight::report
