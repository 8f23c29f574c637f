// Text set by Pango, always the same way: in points, without hinting, in fonts named in a fixed order, in
// no locale's language. Private to render.
#pragma once

#include <pango/pangocairo.h>

#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <string_view>
#include <tuple>

#include "loadlight/core/result.h"
#include "loadlight/label/press.h"

namespace loadlight::render {

struct ReleaseObject final {
  void operator()(void* object) const { g_object_unref(object); }
};
using LayoutHandle = std::unique_ptr<PangoLayout, ReleaseObject>;
using ContextHandle = std::unique_ptr<PangoContext, ReleaseObject>;

// The one setter of text of the process: finding fonts takes longer than setting a sheet in them. Whoever
// uses it holds text_lock(). Text is UTF-8; layouts count in Pango's units, 1/1024 point.
class PangoText final {
 public:
  // Made when first asked for, kept to the end.
  static PangoText& shared();

  // `text` on one line; the layout belongs to the setter and is valid until the next call. Texts that
  // come again, such as headings, are set once.
  PangoLayout* one_line(std::string_view text, label::TextStyle style);
  // `text` as a paragraph whose width may be set.
  LayoutHandle paragraph(std::string_view text, label::TextStyle style);

 private:
  using Key = std::tuple<std::string, double, bool, bool>;

  PangoText() = default;
  PangoContext* context_for(std::string_view text);

  ContextHandle few_fonts_;  // null until needed, or when these fonts are not installed
  bool tried_few_fonts_ = false;
  ContextHandle all_fonts_;  // null until needed
  std::map<Key, LayoutHandle> lines_;
};

std::mutex& text_lock();

}  // namespace loadlight::render
