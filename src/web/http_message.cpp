#include "web/http_message.h"

#include <algorithm>
#include <filesystem>

namespace loadlight::web {
namespace {

int hex_value(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

std::string unescaped(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '+') {
      out.push_back(' ');
    } else if (text[i] == '%' && i + 2 < text.size() && hex_value(text[i + 1]) >= 0 &&
               hex_value(text[i + 2]) >= 0) {
      out.push_back(static_cast<char>(hex_value(text[i + 1]) * 16 + hex_value(text[i + 2])));
      i += 2;
    } else {
      out.push_back(text[i]);
    }
  }
  return out;
}

// How many bytes the character that begins here has by its first byte; 0: none begins so.
std::size_t length_of(unsigned char first) {
  if (first < 0x80) return 1;
  if (first >= 0xC2 && first < 0xE0) return 2;
  if (first >= 0xE0 && first < 0xF0) return 3;
  if (first >= 0xF0 && first < 0xF5) return 4;
  return 0;
}

// Overlong forms, surrogates and what lies beyond Unicode show in the second byte (RFC 3629).
bool second_fits(unsigned char first, unsigned char second) {
  if (first == 0xE0) return second >= 0xA0;
  if (first == 0xED) return second < 0xA0;
  if (first == 0xF0) return second >= 0x90;
  if (first == 0xF4) return second < 0x90;
  return true;
}

bool is_utf8(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[at + i]); };
    const std::size_t length = length_of(byte(0));
    if (length == 0 || at + length > text.size()) return false;
    for (std::size_t i = 1; i < length; ++i) {
      if ((byte(i) & 0xC0) != 0x80) return false;
    }
    if (length > 1 && !second_fits(byte(0), byte(1))) return false;
    at += length;
  }
  return true;
}

}  // namespace

std::string_view Fields::value(std::string_view name) const {
  return find(name).value_or(std::string_view{});
}

std::optional<std::string_view> Fields::find(std::string_view name) const {
  for (const auto& [key, value] : all_) {
    if (key == name) return value;
  }
  return std::nullopt;
}

std::vector<std::string> Fields::values(std::string_view name) const {
  std::vector<std::string> found;
  for (const auto& [key, value] : all_) {
    if (key == name) found.push_back(value);
  }
  return found;
}

std::optional<Fields> parse_form(std::string_view text, std::size_t most) {
  Fields fields;
  while (!text.empty()) {
    const std::string_view pair = text.substr(0, text.find('&'));
    text.remove_prefix(std::min(text.size(), pair.size() + 1));
    if (pair.empty()) continue;
    if (fields.all().size() == most) return std::nullopt;
    const auto equals = std::min(pair.find('='), pair.size());
    std::string name = unescaped(pair.substr(0, equals));
    std::string value = unescaped(pair.substr(std::min(equals + 1, pair.size())));
    if (!is_utf8(name) || !is_utf8(value)) return std::nullopt;
    fields.add(std::move(name), std::move(value));
  }
  return fields;
}

std::string url_escaped(std::string_view text) {
  constexpr char kHex[] = "0123456789ABCDEF";
  std::string out;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    const bool plain = (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') ||
                       c == '-' || c == '_' || c == '.';
    if (plain) {
      out.push_back(c);
    } else {
      out += {'%', kHex[byte >> 4], kHex[byte & 15]};
    }
  }
  return out;
}

UploadedFile::~UploadedFile() {
  std::error_code ignored;
  std::filesystem::remove(path_, ignored);
}

}  // namespace loadlight::web
