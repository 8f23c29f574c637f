// Use case: how labels will look, before anything is printed or recorded. What is shown is no label: its id and
// its symbol are a sample's, which no check takes for a package's.
#pragma once

#include <vector>

#include "loadlight/app/print_labels.h"

namespace loadlight::app {

struct LabelPreview final {
  label::Page page;  // the first one, as it will be printed but for ids and symbols
  int labels = 1;    // on this page
  int pages = 1;     // in all
  int cells = 1;     // of a page
  std::vector<label::LayoutWarning> warnings;
  std::string stock;  // as settled
  std::string template_name;
};

// Of the request `packed` and `paper.out` are not looked at. Refuses what print_labels would refuse; changes
// nothing.
core::Result<LabelPreview> preview_labels(const Ports& ports, const PrintShop& shop, const PrintRequest& request);

// A symbol's text as long as `payload`, of characters that a payload has: a symbol of the same size that says
// what it is.
std::string sample_payload(std::size_t length);
inline constexpr std::string_view kSampleId = "SAM-PLE-LABL";

}  // namespace loadlight::app
