// What the use cases work with. Holds references; decides nothing.
#pragma once

#include <functional>
#include <string_view>

#include "loadlight/label/layout.h"
#include "loadlight/label/template.h"
#include "loadlight/port/clock.h"
#include "loadlight/port/files.h"
#include "loadlight/port/keyring.h"
#include "loadlight/port/local_copy.h"
#include "loadlight/port/store.h"
#include "loadlight/port/symbol_encoder.h"
#include "loadlight/port/zone.h"

namespace loadlight::app {

// An office and the world around it.
struct Ports final {
  port::Store& store;
  const port::Clock& clock;
  const port::Zone& zone;
  const port::Keyring& keyring;
  port::LocalCopy* copy = nullptr;  // of a record that is shared with other stations
};

// Where labels are made.
struct PrintShop final {
  const port::SymbolEncoder& encoder;
  const label::TextGauge& gauge;
  const label::Press& press;
  const port::Files& files;
  label::Words words;
  // The template of this name: TemplateUnknown or BadTemplate.
  std::function<core::Result<label::LabelTemplate>(std::string_view name)> find_template;
};

}  // namespace loadlight::app
