// Text set by Pango, always the same way: in points, without hinting, in fonts named in a fixed order, in
// no locale's language. Private to render.
#pragma once

#include <pango/pangocairo.h>

#include <memory>
#include <string_view>

#include "loadlight/core/result.h"
#include "loadlight/label/press.h"

namespace loadlight::render {

struct ReleaseObject final {
  void operator()(void* object) const { g_object_unref(object); }
};
using LayoutHandle = std::unique_ptr<PangoLayout, ReleaseObject>;

// One thread at a time.
class PangoText final {
 public:
  PangoText();

  // `text` as one paragraph. Its units are Pango's, 1/1024 point.
  LayoutHandle layout(std::string_view text, label::TextStyle style) const;

 private:
  std::unique_ptr<PangoFontMap, ReleaseObject> fonts_;
  std::unique_ptr<PangoContext, ReleaseObject> context_;
};

}  // namespace loadlight::render
