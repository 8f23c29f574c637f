// The audit's page. What it says is here, how it looks in audit_page_style.cpp.
#include <string_view>

#include "loadlight/report/audit_report.h"
#include "report/audit_lists.h"
#include "report/audit_mosaic.h"
#include "report/audit_page_style.h"
#include "report/audit_texts.h"
#include "report/html.h"

namespace loadlight::report {
namespace {

using core::Outcome;

class PageWriter final {
 public:
  PageWriter(const AuditFacts& facts, const Words& words) : facts_(facts), words_(words) {}

  std::string write() {
    html_.raw("<!doctype html>\n").open("html", {{"lang", text("lang")}});
    write_head();
    html_.open("body");
    write_header();
    html_.open("main");
    write_totals();
    write_pull();
    write_use_first();
    write_not_seen();
    write_unreadable();
    write_mosaic();
    write_all();
    html_.close("main").open("footer");
    html_.element("p", text("caution"), {{"class", "caution"}});
    html_.close("footer").close("body").close("html");
    return html_.take();
  }

 private:
  std::string text(std::string_view name, const core::Details& details = {}) const {
    return words_.text("audit.report." + std::string{name}, details);
  }
  static core::Details count_of(std::size_t count) { return {{"count", std::to_string(count)}}; }
  std::string location_text(const std::string& name) const {
    return name.empty() ? text("no-location") : name;
  }
  std::string use_by(const std::string& day) const { return day.empty() ? text("no-use-by") : day; }
  std::string title() const { return text("title", audit_details(facts_)); }

  void write_head() {
    html_.open("head").raw("<meta charset=\"utf-8\">\n");
    html_.raw("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
    html_.element("title", title() + " · " + facts_.location);
    html_.raw("<style>").raw(kAuditPageStyle).raw("</style>\n").close("head");
  }

  void write_header() {
    const core::Details gaps = audit_details(facts_);
    html_.open("header").element("h1", title());
    html_.element("p", text("subtitle", gaps));
    html_.element("p", text(facts_.operator_name.empty() ? "by-nobody" : "by", gaps) + " · " +
                           sweep_text(facts_, words_));
    if (const auto trouble = trouble_of(facts_, words_)) write_headline(*trouble, "headline trouble");
    write_headline(pull_headline(facts_, words_), "headline");
    write_contents();
    html_.close("header");
  }

  void write_headline(const Headline& headline, const std::string& look) {
    html_.open("div", {{"class", look}}).element("strong", headline.headline);
    html_.element("p", headline.text).close("div");
  }

  void write_contents() {
    html_.open("nav", {{"aria-label", text("contents")}}).open("ul");
    write_link("#pull", text("heading.pull"), true);
    write_link("#use-first", text("heading.use-first", count_of(to_use_first(facts_).size())),
               !to_use_first(facts_).empty());
    write_link("#not-seen", text("heading.not-seen"), !facts_.missing.empty());
    write_link("#unreadable", text("heading.unreadable", count_of(counts_of(facts_).unreadable)),
               !facts_.unreadable.empty());
    write_link("#mosaic", text("heading.mosaic"), !facts_.pictures.empty());
    write_link("#all", text("heading.all", count_of(facts_.rows.size())), true);
    html_.close("ul").close("nav");
  }

  void write_link(const std::string& to, const std::string& name, bool is_there) {
    if (is_there) html_.open("li").element("a", name, {{"href", to}}).close("li");
  }

  void begin_section(const std::string& id, const std::string& heading) {
    html_.open("section", {{"aria-labelledby", id}}).element("h2", heading, {{"id", id}});
  }

  void write_totals() {
    begin_section("totals", text("heading.totals"));
    html_.open("dl", {{"class", "totals"}});
    for (const Total& total : totals_of(facts_, words_)) {
      html_.open("div", {{"class", total.count == 0 ? "none" : "some"}});
      html_.element("dt", total.name).element("dd", std::to_string(total.count)).close("div");
    }
    html_.close("dl").close("section");
  }

  void write_pull() {
    begin_section("pull", text("heading.pull"));
    const auto places = to_pull(facts_);
    if (places.empty()) html_.element("p", text("none"));
    for (const auto& [location, rows] : places) {
      html_.element("h3", text("heading.pull-at", {{"location", location_text(location)},
                                                   {"count", std::to_string(rows.size())}}));
      html_.open("ol", {{"class", "pull"}});
      for (const NumberedRow& each : rows) write_pull_item(each);
      html_.close("ol");
    }
    html_.close("section");
  }

  void write_pull_item(const NumberedRow& each) {
    const AuditRow& row = *each.row;
    const std::string id = id_text(row.package, words_);
    html_.open("li");
    html_.open("input", {{"type", "checkbox"}, {"aria-label", text("tick", {{"package", id}})}});
    write_number_link(each.number);
    html_.open("div").element("span", id, {{"class", "id"}});
    html_.element("span", row.contents, {{"class", "contents"}}).close("div");
    html_.open("div", {{"class", "reasons"}});
    write_outcome(row);
    html_.open("ul");
    for (const auto& [why, what] : why_and_what(row, words_)) {
      html_.open("li").text(why.empty() ? "" : why + " ");
      html_.element("span", what, {{"class", "what"}}).close("li");
    }
    html_.close("ul").close("div").close("li");
  }

  void write_number_link(std::size_t number) {
    html_.element("a", std::to_string(number),
                  {{"class", "number"}, {"href", "#row-" + std::to_string(number)}});
  }

  void write_outcome(const AuditRow& row) {
    html_.open("span", {{"class", "outcome " + std::string{core::to_text(row.outcome)}}});
    write_sign(html_, row.outcome);
    html_.text(outcome_text(row, words_)).close("span");
  }

  void begin_table(const std::string& labelled_by, std::initializer_list<const char*> columns) {
    html_.open("div",
               {{"class", "table"}, {"role", "group"}, {"aria-labelledby", labelled_by}, {"tabindex", "0"}});
    html_.open("table").open("thead").open("tr");
    for (const char* column : columns) {
      const bool figures = std::string_view{column} == "number";
      html_.element("th", text("column." + std::string{column}),
                    {{"scope", "col"}, {"class", figures ? "number" : "text"}});
    }
    html_.close("tr").close("thead").open("tbody");
  }
  void end_table() { html_.close("tbody").close("table").close("div"); }

  void cell(const std::string& value, const std::string& look = "text") {
    html_.element("td", value, {{"class", look}});
  }
  void number_cell(std::size_t number) {
    html_.open("td", {{"class", "number"}});
    write_number_link(number);
    html_.close("td");
  }

  void write_use_first() {
    const auto rows = to_use_first(facts_);
    if (rows.empty()) return;
    begin_section("use-first", text("heading.use-first", count_of(rows.size())));
    html_.element("p", text("use-first-text"));
    begin_table("use-first", {"number", "package", "contents", "use-by", "date", "seen-at"});
    for (const auto& [number, row] : rows) {
      html_.open("tr");
      number_cell(number);
      cell(id_text(row->package, words_), "id");
      cell(row->contents);
      cell(use_by(row->use_by), "date");
      cell(row->process_date, "date");
      cell(location_text(row->seen_at));
      html_.close("tr");
    }
    end_table();
    html_.close("section");
  }

  void write_not_seen() {
    if (facts_.missing.empty()) return;
    begin_section("not-seen", text("heading.not-seen"));
    html_.element("p", text("not-seen-text"));
    int place = 0;
    for (const auto& [location, packages] : not_seen(facts_)) {
      const std::string id = "not-seen-" + std::to_string(++place);
      html_.element("h3",
                    text("heading.not-seen-at",
                         {{"location", location_text(location)}, {"count", std::to_string(packages.size())}}),
                    {{"id", id}});
      begin_table(id, {"tick", "package", "contents", "load", "date", "use-by"});
      for (const AuditMissing* each : packages) write_missing(*each);
      end_table();
    }
    html_.close("section");
  }

  void write_missing(const AuditMissing& each) {
    const std::string id = id_text(each.package, words_);
    html_.open("tr").open("td");
    html_.open("input", {{"type", "checkbox"}, {"aria-label", text("tick", {{"package", id}})}}).close("td");
    cell(id, "id");
    cell(each.contents);
    cell(each.load, "date");
    cell(each.process_date, "date");
    cell(use_by(each.use_by), "date");
    html_.close("tr");
  }

  void write_unreadable() {
    if (facts_.unreadable.empty()) return;
    begin_section("unreadable", text("heading.unreadable", count_of(counts_of(facts_).unreadable)));
    html_.element("p", unreadable_text(facts_, words_)).open("ul", {{"class", "unreadable"}});
    for (const AuditUnreadable& each : facts_.unreadable) {
      const std::string where = frame_text(each.frame, each.file, words_);
      html_.open("li").open("figure");
      if (!each.jpeg.empty()) {
        html_.open("img", {{"src", jpeg_data_uri(each.jpeg)},
                           {"width", std::to_string(each.width)},
                           {"height", std::to_string(each.height)},
                           {"alt", text("unreadable-alt", {{"where", where}})}});
      }
      html_.element("figcaption", where).close("figure").close("li");
    }
    html_.close("ul").close("section");
  }

  void write_mosaic() {
    if (facts_.pictures.empty()) return;
    begin_section("mosaic", text("heading.mosaic"));
    html_.open("ul", {{"class", "legend"}, {"aria-label", text("legend-name")}});
    for (const Outcome outcome : {Outcome::Clear, Outcome::Hold, Outcome::DoNotUse}) {
      const std::string code{core::to_text(outcome)};
      html_.open("li", {{"class", code}});
      write_sign(html_, outcome);
      html_.text(text("legend." + code)).close("li");
    }
    html_.close("ul");
    for (const AuditPicture& picture : facts_.pictures) write_picture(html_, picture, facts_, words_);
    html_.close("section");
  }

  void write_all() {
    begin_section("all", text("heading.all", count_of(facts_.rows.size())));
    if (facts_.rows.empty()) html_.element("p", text("none"));
    if (!facts_.rows.empty()) {
      begin_table("all",
                  {"number", "package", "contents", "load", "date", "use-by", "verdict", "place", "seen"});
      for (std::size_t i = 0; i < facts_.rows.size(); ++i) write_row(i + 1, facts_.rows[i]);
      end_table();
    }
    html_.close("section");
  }

  void write_row(std::size_t number, const AuditRow& row) {
    html_.open("tr", {{"id", "row-" + std::to_string(number)}});
    cell(std::to_string(number), "number");
    cell(id_text(row.package, words_), "id");
    cell(row.contents);
    cell(row.load, "date");
    cell(row.process_date, "date");
    cell(use_by(row.use_by), "date");
    html_.open("td");
    write_outcome(row);
    html_.close("td");
    const std::string place = place_text(row, words_);
    cell(location_text(row.seen_at) + (place.empty() ? "" : " · " + place));
    cell(seen_text(row, words_));
    html_.close("tr");
  }

  const AuditFacts& facts_;
  const Words& words_;
  Html html_;
};

}  // namespace

std::string audit_page(const AuditFacts& facts, const Words& words) {
  return PageWriter{facts, words}.write();
}

}  // namespace loadlight::report
