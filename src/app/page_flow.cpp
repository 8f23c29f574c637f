#include "app/page_flow.h"

namespace loadlight::app {
namespace {

using core::Result;
using label::Page;
using label::TextStyle;

struct Measures final {
  double width = 0;
  double height = 0;
  double left = 20;  // where pages are bound
  double right = 15;
  double top = 11;
  double bottom = 13;

  double room() const { return width - left - right; }
};

Measures measures_of(PageSize paper) {
  switch (paper) {
    case PageSize::A4:
      return {210, 297};
    case PageSize::Letter:
      return {8.5 * label::kMillimetresPerInch, 11 * label::kMillimetresPerInch};
  }
  return {210, 297};
}

constexpr TextStyle kRunningTitle{8, true, false};
constexpr TextStyle kFooter{7, false, false};
constexpr double kNumberWidth = 40;
constexpr double kHairline = 0.12;
constexpr double kAboveHeading = 1.7;
constexpr double kBelowHeading = 0.6;

void rule(Page& page, const Measures& m, double y) {
  page.items.emplace_back(label::DrawnLine{m.left, y, m.left + m.room(), y, kHairline});
}

}  // namespace

Result<void> PageFlow::begin(const std::string& title, const std::string& footer) {
  const Measures m = measures_of(paper_);
  auto set_title = set(title, kRunningTitle, m.room());
  if (!set_title) return set_title.failure();
  auto set_footer = set(footer, kFooter, m.room() - kNumberWidth);
  if (!set_footer) return set_footer.failure();
  title_ = {kRunningTitle, {}};  // the first page has the document's own title
  footer_ = *std::move(set_footer);
  heading_ = {};
  new_page();
  title_ = *std::move(set_title);
  return {};
}

double PageFlow::left() const {
  return measures_of(paper_).left;
}
double PageFlow::width() const {
  return measures_of(paper_).room();
}
double PageFlow::full_height() const {
  const Measures m = measures_of(paper_);
  return m.height - m.top - m.bottom - title_.height() - 2;
}

void PageFlow::new_page() {
  const Measures m = measures_of(paper_);
  pages_.push_back({Page{m.width, m.height, {}}, footer_});
  y_ = m.top;
  if (!title_.lines.empty()) {
    draw_text(title_, m.left, y_, m.room(), Side::Start, page());
    y_ += title_.height() + 0.5;
    rule(page(), m, y_);
    y_ += 1.5;
  }
  top_ = y_;
}

double PageFlow::heading_height() const {
  if (heading_.lines.empty()) return 0;
  return (is_fresh() ? 0 : kAboveHeading) + heading_.height() + kBelowHeading;
}

void PageFlow::draw_heading() {
  if (heading_.lines.empty()) return;
  if (!is_fresh()) y_ += kAboveHeading;
  draw_text(heading_, left(), y_, width(), Side::Start, page());
  y_ += heading_.height() + kBelowHeading;
  heading_.lines.clear();
}

bool PageFlow::make_room(double height) {
  const Measures m = measures_of(paper_);
  const bool full = y_ + heading_height() + height > m.height - m.bottom && !is_fresh();
  if (full) new_page();
  draw_heading();
  return full;
}

void PageFlow::keep_heading(SetText heading) {
  if (!heading_.lines.empty()) make_room(heading.height());  // two in a row
  heading_ = std::move(heading);
}

void PageFlow::end() {
  if (!heading_.lines.empty()) make_room(0);
}

Result<std::vector<Page>> number_pages(std::vector<FooterPage> pages, PageSize paper,
                                       const NumberText& number_text, const label::TextGauge& gauge) {
  const Measures m = measures_of(paper);
  const double y = m.height - m.bottom + 3;
  std::vector<Page> numbered;
  numbered.reserve(pages.size());
  for (FooterPage& each : pages) {
    const auto number =
        set_text(number_text(numbered.size() + 1, pages.size()), kFooter, kNumberWidth, gauge);
    if (!number) return number.failure();
    rule(each.page, m, y);
    draw_text(each.footer, m.left, y + 1, m.room() - kNumberWidth, Side::Start, each.page);
    draw_text(*number, m.left + m.room() - kNumberWidth, y + 1, kNumberWidth, Side::End, each.page);
    numbered.push_back(std::move(each.page));
  }
  return numbered;
}

}  // namespace loadlight::app
