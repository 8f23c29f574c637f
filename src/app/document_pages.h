// A report's document laid out on pages.
#pragma once

#include "app/page_flow.h"
#include "loadlight/report/document.h"

namespace loadlight::app {

// Takes documents one after another, each from a page of its own; what was laid out is not looked at again
// but for its page number, so that a book of any length costs no more than its pages.
class DocumentPages final {
 public:
  DocumentPages(PageSize paper, const label::TextGauge& gauge)
      : paper_(paper), gauge_(gauge), flow_(paper, gauge) {}

  // Empty, of the same paper.
  DocumentPages beside() const { return {paper_, gauge_}; }

  core::Result<void> add(const report::Document& document);
  // Puts the pages of another before these.
  void put_first(DocumentPages other);
  std::size_t count() { return flow_.pages().size(); }

  // All pages with their footers and numbers; none are left here.
  core::Result<std::vector<label::Page>> take(const NumberText& number_text);

 private:
  PageSize paper_;
  const label::TextGauge& gauge_;
  PageFlow flow_;
};

}  // namespace loadlight::app
