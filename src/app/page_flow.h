// Pages that are filled from top to bottom. Lengths in millimetres.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "app/page_text.h"
#include "loadlight/app/print_record.h"
#include "loadlight/label/press.h"

namespace loadlight::app {

// A page and what stands below it beside its number.
struct FooterPage final {
  label::Page page;
  SetText footer;
};

class PageFlow final {
 public:
  PageFlow(PageSize paper, const label::TextGauge& gauge) : paper_(paper), gauge_(gauge) {}

  // Begins a document on a page of its own. `title` heads its further pages.
  core::Result<void> begin(const std::string& title, const std::string& footer);

  double left() const;
  double width() const;
  double y() const { return y_; }
  double full_height() const;  // of a further page's room
  const label::TextGauge& gauge() const { return gauge_; }
  label::Page& page() { return pages_.back().page; }
  core::Result<SetText> set(std::string_view text, label::TextStyle style, double width) const {
    return set_text(text, style, width, gauge_);
  }

  // Makes sure that `height` is left on the page; true if that took a new one. A heading that was kept is
  // drawn first, on the same page.
  bool make_room(double height);
  void move_down(double height) { y_ += height; }
  // Draws a heading together with whatever is placed next, or at the document's end.
  void keep_heading(SetText heading);
  void end();

  std::vector<FooterPage>& pages() { return pages_; }

 private:
  bool is_fresh() const { return y_ <= top_ + 1e-9; }
  double heading_height() const;
  void new_page();
  void draw_heading();

  PageSize paper_;
  const label::TextGauge& gauge_;
  std::vector<FooterPage> pages_;
  SetText title_;
  SetText footer_;
  SetText heading_;  // kept for what comes next; without lines: none
  double top_ = 0;   // where the page's room begins
  double y_ = 0;
};

// Draws footers and page numbers, counted over all pages. `number_text(2, 5)` gives "Page 2 of 5".
using NumberText = std::function<std::string(std::size_t page, std::size_t pages)>;
core::Result<std::vector<label::Page>> number_pages(std::vector<FooterPage> pages, PageSize paper,
                                                    const NumberText& number_text,
                                                    const label::TextGauge& gauge);

}  // namespace loadlight::app
