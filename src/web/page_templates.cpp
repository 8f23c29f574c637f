#include "web/page_templates.h"

#include <kainjow/mustache.hpp>

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;
namespace mustache = kainjow::mustache;

constexpr std::size_t kLargestPage = 1 << 20;  // bytes
constexpr int kDeepest = 8;                    // templates within templates

mustache::data data_of(const View& view) {
  switch (view.type()) {
    case View::value_t::object: {
      mustache::data object{mustache::data::type::object};
      for (const auto& [key, value] : view.items()) object.set(key, data_of(value));
      return object;
    }
    case View::value_t::array: {
      mustache::data list{mustache::data::type::list};
      for (const View& each : view) list.push_back(data_of(each));
      return list;
    }
    case View::value_t::boolean:
      return mustache::data{view.get<bool>()};
    case View::value_t::string:
      // An empty text is no reason to show a section.
      if (view.get_ref<const std::string&>().empty()) return mustache::data{false};
      return mustache::data{view.get_ref<const std::string&>()};
    case View::value_t::null:
    case View::value_t::discarded:
      return mustache::data{false};
    default:
      return mustache::data{view.dump()};
  }
}

Failure bad(const std::string& name, const std::string& problem) {
  return {FailureCode::BadTemplate, {{"template", name}, {"line", "1"}, {"problem", problem}}, {}};
}

// A tag that would put a value in place as it is, or that changes how tags are written, and so how such a one is.
bool may_let_markup_through(std::string_view page) {
  for (auto at = page.find("{{"); at != std::string_view::npos; at = page.find("{{", at + 1)) {
    const auto kind = page.find_first_not_of(" \t\r\n\v\f", at + 2);
    if (kind != std::string_view::npos && std::string_view{"{&="}.find(page[kind]) != std::string_view::npos) return true;
  }
  return false;
}

}  // namespace

std::string html_escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      case '\'': out += "&#39;"; break;
      default: out.push_back(static_cast<unsigned char>(c) < 0x20 && c != '\n' && c != '\t' ? ' ' : c);
    }
  }
  return out;
}

PageTemplates::PageTemplates(const app::World& world, const report::Words& words)
    : world_(world), words_(words) {}

Result<std::string> PageTemplates::with_words(const std::string& name, std::string_view text) const {
  std::string out;
  while (true) {
    const auto open = text.find("[[");
    out += text.substr(0, open);
    if (open == std::string_view::npos) return out;
    const auto close = text.find("]]", open);
    if (close == std::string_view::npos) return bad(name, "[[");
    const std::string_view key = text.substr(open + 2, close - open - 2);
    if (!words_.has(key)) return bad(name, std::string{key});
    out += html_escaped(words_.text(key));
    text.remove_prefix(close + 2);
  }
}

Result<std::string> PageTemplates::text_of(const std::string& name) const {
  const std::lock_guard lock{mutex_};
  if (const auto known = texts_.find(name); known != texts_.end()) return known->second;
  const auto read = world_.files.read(world_.templates_folder + "/web/" + name + ".html", kLargestPage);
  if (!read) return Failure{FailureCode::TemplateUnknown, {{"template", name}}, {}};
  auto text = with_words(name, *read);
  if (text) texts_.emplace(name, *text);
  return text;
}

// Other templates are put in place as text, so that a value can never name one.
Result<std::string> PageTemplates::joined(std::string_view name, const std::string& body, int depth) const {
  if (depth > kDeepest) return bad(std::string{name}, "{{>");
  auto text = text_of(std::string{name});
  if (!text) return text;
  std::string out;
  std::string_view rest = *text;
  while (true) {
    const auto open = rest.find("{{>");
    out += rest.substr(0, open);
    if (open == std::string_view::npos) return out;
    const auto close = rest.find("}}", open);
    if (close == std::string_view::npos) return bad(std::string{name}, "{{>");
    std::string_view other = rest.substr(open + 3, close - open - 3);
    while (other.starts_with(' ')) other.remove_prefix(1);
    while (other.ends_with(' ')) other.remove_suffix(1);
    const auto part = joined(other == "body" ? body : std::string{other}, body, depth + 1);
    if (!part) return part;
    out += *part;
    rest.remove_prefix(close + 2);
  }
}

Result<std::string> PageTemplates::filled(std::string_view name, const Result<std::string>& text,
                                         const View& view) const {
  if (!text) return text;
  if (may_let_markup_through(*text)) return bad(std::string{name}, "{{{, {{&, {{=");
  mustache::mustache page{*text};
  if (!page.is_valid()) return bad(std::string{name}, page.error_message());
  page.set_custom_escape([](const std::string& value) { return html_escaped(value); });
  return page.render(data_of(view));
}

Result<std::string> PageTemplates::render(std::string_view name, const View& view) const {
  return filled(name, joined(name, {}, 0), view);
}

Result<std::string> PageTemplates::render_page(std::string_view name, const View& view) const {
  return filled(name, joined("parts/frame", std::string{name}, 0), view);
}

}  // namespace loadlight::web
