// A template of the station's pages with a view that holds hostile texts: the template, a line "---", the text.
//
// Promises: no text of the view becomes markup, whatever the template does with it; a template that could let one
// through is refused; templates within templates end.
#include <algorithm>
#include <array>

#include "fuzz_input.h"
#include "web/page_templates.h"

namespace loadlight::fuzz {
namespace {

using web::View;

// The one template there is, under every name.
class OneFile final : public port::Files {
 public:
  core::Result<std::string> read(const std::string&, std::size_t limit) const override {
    if (text.size() > limit) return core::Failure{core::FailureCode::FileUnreadable, {}, {}};
    return text;
  }
  core::Result<void> each_chunk(const std::string&, const std::function<bool(const Chunk&)>&) const override {
    return core::Failure{core::FailureCode::FileUnreadable, {}, {}};
  }
  core::Result<void> write(const std::string&, std::string_view) const override {
    return core::Failure{core::FailureCode::FileUnwritable, {}, {}};
  }

  std::string text;
};

class StoppedClock final : public port::Clock {
 public:
  core::Instant now() const override { return core::instant_from(1'795'000'000'000); }
};

View view_of(const std::string& value) {
  return View{{"a", value},
              {"b", View::array({value, View{{"c", value}, {"d", View::array()}}})},
              {"e", View{{"f", value}, {"g", 7}}},
              {"yes", true},
              {"no", nullptr}};
}

// Whatever else a world has stays empty, however many members it has.
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wmissing-field-initializers"
core::Result<std::string> drawn(std::string_view page, const std::string& value) {
  static const report::Words words = *report::Words::parse(R"({"k": "<word> & more", "k.l": "{gap}"})");
  static const StoppedClock clock;
  OneFile file;
  file.text = page;
  const app::World world{.clock = clock, .files = file};
  return web::PageTemplates{world, words}.render("page", view_of(value));
}
#pragma GCC diagnostic pop

// Of each character that could be markup, and of all that is none, how many there are.
std::array<std::ptrdiff_t, 5> markup_of(std::string_view text) {
  constexpr std::string_view kMarkup = "<>\"'\x01";
  std::array<std::ptrdiff_t, 5> counts{};
  std::transform(kMarkup.begin(), kMarkup.end(), counts.begin(),
                 [&](char c) { return std::count(text.begin(), text.end(), c); });
  return counts;
}

void draw(std::string_view page, std::string_view text) {
  const auto plain = drawn(page, "text");
  const auto hostile = drawn(page, std::string{text.substr(0, 200)} + "<b a=\"'\x01'\">{{{a}}}{{>page}}[[k]]{{=<% %>=}}");
  promise(plain.ok() == hostile.ok(), "whether a template is refused is not up to a text");
  if (!plain) {
    const auto code = plain.failure().code;
    promise(code == core::FailureCode::BadTemplate || code == core::FailureCode::TemplateUnknown, "a refusal is of it");
    return;
  }
  promise(markup_of(*plain) == markup_of(*hostile), "no text becomes markup");
  for (const char* tag : {"{{{", "{{&", "{{=", "{{ &", "{{ {", "{{ ="}) {
    promise(page.find(tag) == std::string_view::npos, "tags that would not escape are refused");
  }
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text = loadlight::fuzz::Input{data, size}.rest();
  const auto cut = std::min(text.find("\n---\n"), text.size());
  loadlight::fuzz::draw(text.substr(0, cut), text.substr(std::min(cut + 5, text.size())));
  return 0;
}
