// The station's pages, written as Mustache templates under templates/web. Texts come from the words catalogue:
// [[key]] in a template stands for the text of that key. Values come from a View and are always escaped; the
// tags that would not escape ({{{ and {{&) are refused when a template is read, so that no text of the record
// can become markup.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <string_view>

#include <nlohmann/json.hpp>

#include "loadlight/app/world.h"
#include "loadlight/core/result.h"
#include "loadlight/report/words.h"

namespace loadlight::web {

// What a page shows: objects, lists, texts, numbers, yes and no.
using View = nlohmann::ordered_json;

class PageTemplates final {
 public:
  // Reads templates under the world's folder of templates, each when it is first asked for. A file "a/b.html"
  // has the name "a/b"; {{> parts/x}} puts parts/x in its place.
  PageTemplates(const app::World& world, const report::Words& words);

  // TemplateUnknown or BadTemplate (details: template, problem). Thread-safe.
  core::Result<std::string> render(std::string_view name, const View& view) const;
  // A page within parts/frame, whose {{> body}} it is.
  core::Result<std::string> render_page(std::string_view name, const View& view) const;

 private:
  core::Result<std::string> text_of(const std::string& name) const;
  core::Result<std::string> with_words(const std::string& name, std::string_view text) const;
  core::Result<std::string> filled(std::string_view name, const core::Result<std::string>& text,
                                   const View& view) const;
  core::Result<std::string> joined(std::string_view name, const std::string& body, int depth) const;

  const app::World& world_;
  const report::Words& words_;
  mutable std::mutex mutex_;
  mutable std::map<std::string, std::string, std::less<>> texts_;
};

// For the text of an element or of an attribute in quotes.
std::string html_escaped(std::string_view text);

}  // namespace loadlight::web
