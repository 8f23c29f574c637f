// Use case: how a template looks, with sample texts and symbols that no check takes for a label's.
#pragma once

#include <string>

#include "loadlight/app/ports.h"

namespace loadlight::app {

struct SampleRequest final {
  label::LabelTemplate form;
  int dpi = 300;  // of the printer
};
// The first page, its cells filled, 60 of them at most.
core::Result<label::Page> sample_label(const PrintShop& shop, const SampleRequest& request);

// Its test page as a PDF: where a printer's print lies. `nudge_x` and `nudge_y`: millimetres.
struct TestPageRequest final {
  label::LabelTemplate form;
  double nudge_x = 0;
  double nudge_y = 0;
};
core::Result<std::string> print_test_page(const PrintShop& shop, const TestPageRequest& request,
                                          core::Instant now);

}  // namespace loadlight::app
