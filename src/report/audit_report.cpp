#include "loadlight/report/audit_report.h"

#include <string_view>

#include "report/audit_lists.h"
#include "report/audit_texts.h"

namespace loadlight::report {
namespace {

constexpr std::size_t kTotalsAbreast = 3;

class AuditWriter final {
 public:
  AuditWriter(const AuditFacts& facts, const Words& words) : facts_(facts), words_(words) {}

  Document write() {
    head();
    state_trouble();
    state_pull();
    totals();
    list_to_pull();
    list_use_first();
    list_not_seen();
    show_unreadable();
    show_mosaic();
    list_all();
    add(Signature{"", "", text("signature")});
    add(Caution{text("caution")});
    return std::move(document_);
  }

 private:
  template <class B>
  void add(B block) {
    document_.blocks.emplace_back(std::move(block));
  }
  std::string text(std::string_view name, const core::Details& details = {}) const {
    return words_.text("audit.report." + std::string{name}, details);
  }
  void heading(const char* name, std::size_t count) {
    add(Heading{text(name, {{"count", std::to_string(count)}})});
  }
  void heading_at(const char* name, const std::string& location, std::size_t count) {
    add(Heading{text(name, {{"location", location}, {"count", std::to_string(count)}})});
  }
  std::string location_text(const std::string& name) const {
    return name.empty() ? text("no-location") : name;
  }
  std::string use_by(const std::string& day) const { return day.empty() ? text("no-use-by") : day; }

  void head() {
    const core::Details gaps = audit_details(facts_);
    document_.title = text("title", gaps);
    document_.subtitles = {text("subtitle", gaps),
                           text(facts_.operator_name.empty() ? "by-nobody" : "by", gaps)};
    document_.footer = text("footer", gaps);
  }

  void state_trouble() {
    const auto trouble = trouble_of(facts_, words_);
    if (trouble) add(Statement{trouble->headline, trouble->text});
  }

  void state_pull() {
    const Headline headline = pull_headline(facts_, words_);
    add(Statement{headline.headline, headline.text});
  }

  void totals() {
    KeyValues values{{}, kTotalsAbreast};
    for (const Total& total : totals_of(facts_, words_)) {
      values.rows.push_back({total.name, std::to_string(total.count)});
    }
    values.rows.push_back({text("key.sweep"), sweep_text(facts_, words_)});
    add(std::move(values));
  }

  Table table_of(std::initializer_list<std::pair<const char*, double>> columns) const {
    Table table;
    for (const auto& [name, weight] : columns) {
      const std::string_view code = name;
      const ColumnKind kind = code == "tick"     ? ColumnKind::TickBox
                              : code == "number" ? ColumnKind::Figures
                                                 : ColumnKind::Text;
      table.columns.push_back({text("column." + std::string{name}), weight, kind});
    }
    return table;
  }

  std::string verdict_text(const AuditRow& row) const { return outcome_text(row, words_); }
  std::string why_text(const AuditRow& row) const {
    std::string all;
    for (const auto& [why, what] : why_and_what(row, words_)) {
      for (const std::string& part : {why, what}) {
        if (!part.empty()) all += (all.empty() ? "" : " ") + part;
      }
    }
    return all;
  }

  void list_to_pull() {
    for (const auto& [location, rows] : to_pull(facts_)) {
      const std::string name = location_text(location);
      heading_at("heading.pull-at", name, rows.size());
      Table table = table_of(
          {{"tick", 7}, {"number", 6}, {"package", 22}, {"contents", 27}, {"verdict", 18}, {"why", 70}});
      table.continued = text("continued", {{"location", name}});
      for (const auto& [number, row] : rows) {
        table.rows.push_back({"box", std::to_string(number), id_text(row->package, words_), row->contents,
                              verdict_text(*row), why_text(*row)});
      }
      add(std::move(table));
    }
  }

  void list_use_first() {
    const auto rows = to_use_first(facts_);
    if (rows.empty()) return;
    heading("heading.use-first", rows.size());
    add(Paragraph{text("use-first-text"), false});
    Table table = table_of(
        {{"number", 6}, {"package", 22}, {"contents", 48}, {"use-by", 20}, {"date", 20}, {"seen-at", 40}});
    for (const auto& [number, row] : rows) {
      table.rows.push_back({std::to_string(number), id_text(row->package, words_), row->contents,
                            use_by(row->use_by), row->process_date, location_text(row->seen_at)});
    }
    add(std::move(table));
  }

  void list_not_seen() {
    if (facts_.missing.empty()) return;
    bool told = false;
    for (const auto& [location, packages] : not_seen(facts_)) {
      const std::string name = location_text(location);
      heading_at("heading.not-seen-at", name, packages.size());
      if (!told) add(Paragraph{text("not-seen-text"), false});
      told = true;
      Table table = table_of(
          {{"tick", 8}, {"package", 22}, {"contents", 56}, {"load", 20}, {"date", 22}, {"use-by", 22}});
      table.continued = text("continued", {{"location", name}});
      for (const AuditMissing* each : packages) {
        table.rows.push_back({"box", id_text(each->package, words_), each->contents, each->load,
                              each->process_date, use_by(each->use_by)});
      }
      add(std::move(table));
    }
  }

  void show_unreadable() {
    if (facts_.unreadable.empty()) return;
    heading("heading.unreadable", counts_of(facts_).unreadable);
    add(Paragraph{unreadable_text(facts_, words_), false});
    PictureGrid grid;
    for (const AuditUnreadable& each : facts_.unreadable) {
      grid.pictures.push_back(
          {each.jpeg, each.width, each.height, frame_text(each.frame, each.file, words_), {}});
    }
    add(std::move(grid));
  }

  void show_mosaic() {
    if (facts_.pictures.empty()) return;
    heading("heading.mosaic", facts_.pictures.size());
    // In the first caption, so that heading, legend and picture stay on one page.
    for (const AuditPicture& picture : facts_.pictures) {
      MarkedPicture each = marked(picture);
      if (&picture == &facts_.pictures.front()) each.caption += ". " + text("legend");
      add(std::move(each));
    }
  }

  MarkedPicture marked(const AuditPicture& picture) const {
    MarkedPicture out{picture.jpeg, picture.width, picture.height, picture_caption(picture, words_), {}};
    for (const AuditPicture::Mark& mark : picture.marks) {
      if (mark.row >= facts_.rows.size()) continue;
      out.marks.push_back({mark.corners, facts_.rows[mark.row].outcome, std::to_string(mark.row + 1)});
    }
    return out;
  }

  void list_all() {
    heading("heading.all", facts_.rows.size());
    if (facts_.rows.empty()) return add(Paragraph{text("none"), false});
    Table table = table_of({{"number", 6},
                            {"package", 19},
                            {"contents", 32},
                            {"load", 14},
                            {"date", 16.5},
                            {"use-by", 16.5},
                            {"verdict", 17},
                            {"place", 30}});
    table.fine = true;
    table.continued = text("all-continued");
    for (std::size_t i = 0; i < facts_.rows.size(); ++i) {
      const AuditRow& row = facts_.rows[i];
      const std::string place = place_text(row, words_);
      table.rows.push_back({std::to_string(i + 1), id_text(row.package, words_), row.contents, row.load,
                            row.process_date, use_by(row.use_by), verdict_text(row),
                            place.empty() ? location_text(row.seen_at) : place});
    }
    add(std::move(table));
  }

  const AuditFacts& facts_;
  const Words& words_;
  Document document_;
};

}  // namespace

Document audit_document(const AuditFacts& facts, const Words& words) {
  return AuditWriter{facts, words}.write();
}

}  // namespace loadlight::report
