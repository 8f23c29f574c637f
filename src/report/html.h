// HTML as it is written: markup can only be a constant of the program, and whatever is not goes through the
// one function that escapes it. No text of the record can become markup.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>

namespace loadlight::report {

// A text known when the program is compiled; nothing else converts to it.
class Markup final {
 public:
  consteval Markup(const char* text) : text_(text) {}  // NOLINT: constants convert
  constexpr std::string_view view() const { return text_; }

 private:
  std::string_view text_;
};

struct Attribute final {
  Markup name;
  std::string value;
};
using Attributes = std::initializer_list<Attribute>;

// Text or an attribute's value. Control characters and the codes that turn directions are left out, as page
// texts are on paper; bytes that are not UTF-8 become U+FFFD.
std::string escaped_html(std::string_view text);

class Html final {
 public:
  Html& raw(Markup markup);
  Html& open(Markup tag, Attributes attributes = {});
  Html& close(Markup tag);
  Html& text(std::string_view text);
  // <tag attributes>text</tag>
  Html& element(Markup tag, std::string_view text, Attributes attributes = {});
  std::string take() { return std::move(out_); }

 private:
  void start(Markup tag, Attributes attributes);
  std::string out_;
};

// An attribute's value that holds a JPEG file.
std::string jpeg_data_uri(std::string_view bytes);

}  // namespace loadlight::report
