#include "app/document_pages.h"

#include <algorithm>
#include <iterator>

#include "app/picture_setter.h"
#include "app/plot_drawing.h"
#include "app/table_setter.h"

namespace loadlight::app {
namespace {

using core::Result;
using label::TextStyle;

constexpr TextStyle kTitle{15, true, false};
constexpr TextStyle kSubtitle{8.5, false, false};
constexpr TextStyle kHeading{9.5, true, false};
constexpr TextStyle kBody{8.5, false, false};
constexpr TextStyle kFine{6.5, false, false};
constexpr TextStyle kHeadline{15, true, false};
constexpr TextStyle kCaution{7.5, false, false};
constexpr TextStyle kName{9, true, false};

// Millimetres.
constexpr double kAfterParagraph = 1;
constexpr double kAfterTitle = 2;
constexpr double kInFrame = 1.5;
constexpr double kLeastBeside = 70;  // for a text beside a headline
constexpr double kBesideHeadline = 5;
constexpr double kStatementFrame = 0.5;
constexpr double kAfterFrame = 1.8;
constexpr double kSignatureRule = 0.2;
constexpr double kAfterSignature = 2;

// Lines that stay together at a page's foot and head.
constexpr std::size_t kTogether = 2;

// Puts blocks on pages, one after another.
class BlockSetter final {
 public:
  explicit BlockSetter(PageFlow& flow) : flow_(flow) {}

  Result<void> operator()(const report::Heading& heading) {
    auto set = flow_.set(heading.text, kHeading, flow_.width());
    if (!set) return set.failure();
    flow_.keep_heading(*std::move(set));
    return {};
  }

  Result<void> operator()(const report::Paragraph& paragraph) {
    return lines(paragraph.text, paragraph.fine ? kFine : kBody, kAfterParagraph);
  }

  Result<void> operator()(const report::Statement& statement) {
    const double width = flow_.width() - 2 * kInFrame;
    const auto headline = flow_.set(statement.headline, kHeadline, width);
    if (!headline) return headline.failure();
    const double beside =
        headline->lines.size() == 1 ? headline->lines.front().width + kBesideHeadline : width;
    if (width - beside < kLeastBeside) {
      return framed({{statement.headline, kHeadline}, {statement.text, kBody}}, kStatementFrame);
    }
    const auto text = flow_.set(statement.text, kBody, width - beside);
    if (!text) return text.failure();
    return side_by_side(*headline, *text, beside);
  }

  Result<void> operator()(const report::Caution& caution) { return framed({{caution.text, kCaution}}, 0.2); }

  Result<void> operator()(const report::KeyValues& values) { return place_key_values(values, flow_); }

  Result<void> operator()(const report::Table& table) { return place_table(table, flow_); }

  Result<void> operator()(const report::Curve& curve) {
    auto drawing = draw_plot(curve.plot, flow_.gauge());
    if (!drawing) return drawing.failure();
    flow_.make_room(drawing->height);
    const double height = drawing->height;
    place(*std::move(drawing), flow_.left(), flow_.y(), flow_.page());
    flow_.move_down(height);
    return {};
  }

  Result<void> operator()(const report::MarkedPicture& picture) { return place_picture(picture, flow_); }

  Result<void> operator()(const report::PictureGrid& grid) { return place_grid(grid, flow_); }

  // Name, time and meaning over a line; a line to sign on where there is no name.
  Result<void> operator()(const report::Signature& signature) {
    const double third = flow_.width() / 3;
    const auto name = flow_.set(signature.name, kName, third - 2);
    if (!name) return name.failure();
    const auto when = flow_.set(signature.when, kBody, third - 2);
    if (!when) return when.failure();
    const auto meaning = flow_.set(signature.meaning, kBody, third);
    if (!meaning) return meaning.failure();
    const double least = signature.name.empty() ? 11 : 0;
    const double height = std::max({name->height(), when->height(), meaning->height(), least});
    flow_.make_room(height + kAfterSignature);
    draw_text(*name, flow_.left(), flow_.y(), third - 2, Side::Start, flow_.page());
    draw_text(*when, flow_.left() + third, flow_.y(), third - 2, Side::Start, flow_.page());
    draw_text(*meaning, flow_.left() + 2 * third, flow_.y(), third, Side::Start, flow_.page());
    flow_.move_down(height);
    flow_.page().items.emplace_back(
        label::DrawnLine{flow_.left(), flow_.y(), flow_.left() + flow_.width(), flow_.y(), kSignatureRule});
    flow_.move_down(kAfterSignature);
    return {};
  }

  Result<void> title(const report::Document& document) {
    if (auto done = lines(document.title, kTitle, 0.3); !done) return done;
    for (const std::string& subtitle : document.subtitles) {
      if (auto done = lines(subtitle, kSubtitle, 0); !done) return done;
    }
    flow_.move_down(kAfterTitle);
    return {};
  }

 private:
  struct Styled final {
    const std::string& text;
    TextStyle style;
  };

  Result<void> lines(const std::string& text, TextStyle style, double after) {
    const auto set = flow_.set(text, style, flow_.width());
    if (!set) return set.failure();
    for (std::size_t next = 0; next < set->lines.size();) {
      const std::size_t left = set->lines.size() - next;
      const SetText together{style, first_lines(*set, next, left <= kTogether + 1 ? left : kTogether)};
      flow_.make_room(together.height());
      draw_text(together, flow_.left(), flow_.y(), flow_.width(), Side::Start, flow_.page());
      flow_.move_down(together.height());
      next += together.lines.size();
    }
    flow_.move_down(after);
    return {};
  }

  static std::vector<label::TextLine> first_lines(const SetText& set, std::size_t from, std::size_t count) {
    const auto begin = set.lines.begin() + static_cast<std::ptrdiff_t>(from);
    return {begin, begin + static_cast<std::ptrdiff_t>(count)};
  }

  // Texts one below the other in a frame that stays whole; what is taller than a page goes without one.
  Result<void> framed(std::vector<Styled> texts, double stroke) {
    const double width = flow_.width() - 2 * kInFrame;
    std::vector<SetText> set;
    double height = 2 * kInFrame;
    for (const Styled& text : texts) {
      auto each = flow_.set(text.text, text.style, width);
      if (!each) return each.failure();
      height += each->height();
      set.push_back(*std::move(each));
    }
    if (height > flow_.full_height()) return unframed(texts);
    flow_.make_room(height);
    frame(height, stroke);
    double y = flow_.y() + kInFrame;
    for (const SetText& each : set) {
      draw_text(each, flow_.left() + kInFrame, y, width, Side::Start, flow_.page());
      y += each.height();
    }
    flow_.move_down(height + kAfterFrame);
    return {};
  }

  // The text's first line stands on the headline's.
  Result<void> side_by_side(const SetText& headline, const SetText& text, double beside) {
    const double drop = kHeadline.em_mm() - kBody.em_mm();
    const double height = std::max(headline.height(), drop + text.height()) + 2 * kInFrame;
    flow_.make_room(height);
    const double x = flow_.left() + kInFrame, y = flow_.y() + kInFrame;
    const double width = flow_.width() - 2 * kInFrame;
    frame(height, kStatementFrame);
    draw_text(headline, x, y, width, Side::Start, flow_.page());
    draw_text(text, x + beside, y + drop, width - beside, Side::Start, flow_.page());
    flow_.move_down(height + kAfterFrame);
    return {};
  }

  void frame(double height, double stroke) {
    flow_.page().items.emplace_back(
        label::DrawnFrame{flow_.left(), flow_.y(), flow_.width(), height, stroke});
  }

  Result<void> unframed(const std::vector<Styled>& texts) {
    for (const Styled& text : texts) {
      if (auto done = lines(text.text, text.style, kAfterParagraph); !done) return done;
    }
    return {};
  }

  PageFlow& flow_;
};

}  // namespace

Result<void> DocumentPages::add(const report::Document& document) {
  if (auto done = flow_.begin(document.title, document.footer); !done) return done;
  BlockSetter setter{flow_};
  if (auto done = setter.title(document); !done) return done;
  for (const report::Block& block : document.blocks) {
    if (auto done = std::visit(setter, block); !done) return done;
  }
  flow_.end();
  return {};
}

void DocumentPages::put_first(DocumentPages other) {
  auto& first = other.flow_.pages();
  auto& mine = flow_.pages();
  first.insert(first.end(), std::make_move_iterator(mine.begin()), std::make_move_iterator(mine.end()));
  mine = std::move(first);
}

Result<std::vector<label::Page>> DocumentPages::take(const NumberText& number_text) {
  return number_pages(std::move(flow_.pages()), paper_, number_text, gauge_);
}

}  // namespace loadlight::app
