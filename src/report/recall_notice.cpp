#include "loadlight/report/recall_notice.h"

#include <algorithm>
#include <map>
#include <string_view>

namespace loadlight::report {
namespace {

using core::Disposition;
using Packages = std::vector<const SuspectPackage*>;

std::string key(std::string_view prefix, std::string_view code) {
  return std::string{prefix} + std::string{code};
}

bool is_done(const SuspectPackage& each) {
  return each.disposition == Disposition::Withdrawn || each.disposition == Disposition::Reprocessed;
}

class NoticeWriter final {
 public:
  NoticeWriter(const RecallNoticeFacts& facts, const RecordNames& names, const Words& words)
      : facts_(facts), names_(names), words_(words) {
    for (const SuspectPackage& each : facts.packages) {
      if (!each.disposition) {
        to_find_.push_back(&each);
      } else if (is_done(each)) {
        done_.push_back(&each);
      } else {
        (each.disposition == Disposition::Opened ? opened_ : missing_).push_back(&each);
      }
    }
  }

  Document write() {
    core::Details gaps{{"incident", std::to_string(facts_.incident.number)},
                       {"time", names_.local_time(facts_.printed_at)}};
    if (!facts_.office.empty()) gaps.emplace_back("office", facts_.office);
    document_.title = words_.text("notice.title", gaps);
    document_.subtitles = {words_.text("notice.subtitle", gaps)};
    document_.footer = words_.text("notice.footer", gaps);
    state_counts();
    state_incident();
    say_what_to_do();
    list_shelves();
    list_opened();
    list_missing();
    list_done();
    add(Signature{"", "", words_.text("notice.signature")});
    add(Caution{words_.text("notice.caution")});
    return std::move(document_);
  }

 private:
  template <class B>
  void add(B block) {
    document_.blocks.emplace_back(std::move(block));
  }
  void heading(const char* name) { add(Heading{words_.text(key("notice.heading.", name))}); }
  static std::string count(const Packages& packages) { return std::to_string(packages.size()); }
  bool calls_back() const {
    return facts_.incident.recall != core::RecallReach::Nothing ||
           std::any_of(to_find_.begin(), to_find_.end(), [](const auto* each) { return each->called_back; });
  }

  void state_counts() {
    add(Statement{words_.text(calls_back() ? "notice.headline" : "notice.headline-hold"),
                  words_.text("notice.statement", {{"total", std::to_string(facts_.packages.size())},
                                                   {"shelf", count(to_find_)},
                                                   {"opened", count(opened_)},
                                                   {"missing", count(missing_)},
                                                   {"done", count(done_)}})});
  }

  void state_incident() {
    const core::Incident& incident = facts_.incident;
    KeyValues values;
    const auto pair = [&](const char* name, std::string value) {
      if (!value.empty()) values.rows.push_back({words_.text(key("notice.key.", name)), std::move(value)});
    };
    pair("cause", words_.text("notice.cause",
                              {{"load", incident.load().text()},
                               {"what", words_.text(key("notice.cause.", core::to_text(incident.cause)))}}));
    pair("sterilizer", facts_.sterilizer);
    pair("range", range_text());
    pair("procedure", words_.text(key("notice.procedure.", core::to_text(incident.procedure))));
    pair("opened", words_.text("record.time-by", {{"time", names_.local_time(incident.opened_at)},
                                                  {"who", person_text(incident.opened_by, names_)}}));
    pair("reach", words_.text(key("notice.reach.", core::to_text(incident.recall))));
    pair("profile", incident.profile);
    pair("narrowed", incident.narrowed_why);
    add(std::move(values));
  }

  std::string range_text() const {
    if (facts_.first_load.empty()) return words_.text("notice.no-loads");
    core::Details details{{"first", facts_.first_load}, {"last", facts_.last_load}};
    if (facts_.incident.program) details.emplace_back("program", *facts_.incident.program);
    return words_.text("notice.range", details);
  }

  void say_what_to_do() {
    heading("todo");
    const std::string list = calls_back() ? "notice.todo.recall." : "notice.todo.hold.";
    for (int step = 1; words_.has(list + std::to_string(step)); ++step) {
      add(Paragraph{words_.text(list + std::to_string(step)), false});
    }
    if (!opened_.empty()) add(Paragraph{words_.text("notice.todo.opened"), false});
  }

  Table table_of(std::initializer_list<std::pair<const char*, double>> columns) const {
    Table table;
    for (const auto& [name, weight] : columns) {
      table.columns.push_back({words_.text(key("notice.column.", name)), weight, ColumnKind::Text});
    }
    return table;
  }
  static std::string use_by(const core::Package& package) {
    return package.use_by ? package.use_by->iso() : "";
  }

  // Headings by place, places by name, what has none last.
  void list_shelves() {
    std::map<std::pair<bool, std::string>, Packages> places;
    for (const SuspectPackage* each : to_find_) places[{each->place.empty(), each->place}].push_back(each);
    if (places.empty()) {
      heading("shelf");
      add(Paragraph{words_.text("notice.none"), false});
    }
    for (auto& [place, packages] : places) {
      const std::string name = place.first ? words_.text("notice.no-place") : place.second;
      add(Heading{words_.text("notice.heading.place", {{"place", name}, {"count", count(packages)}})});
      list_shelf(packages, words_.text("notice.continued", {{"place", name}}));
    }
  }

  void list_shelf(Packages& packages, std::string continued) {
    std::stable_sort(packages.begin(), packages.end(), [](const auto* a, const auto* b) {
      return a->package.process_date < b->package.process_date;
    });
    Table table = table_of({{"tick", 8},
                            {"package", 22},
                            {"contents", 40},
                            {"load", 16},
                            {"date", 17},
                            {"use-by", 17},
                            {"remark", 28}});
    table.columns.front().kind = ColumnKind::TickBox;
    table.continued = std::move(continued);
    for (const SuspectPackage* each : packages) {
      const core::Package& p = each->package;
      table.rows.push_back({"box", p.id.grouped(), each->contents, p.load.text(), p.process_date.iso(),
                            use_by(p), each->called_back ? "" : words_.text("notice.held")});
    }
    add(std::move(table));
  }

  void list_opened() {
    heading("opened");
    if (opened_.empty()) return add(Paragraph{words_.text("notice.none"), false});
    Table table = table_of(
        {{"package", 22}, {"contents", 38}, {"load", 16}, {"date", 17}, {"opened-at", 33}, {"visit", 26}});
    for (const SuspectPackage* each : opened_) {
      const core::Package& p = each->package;
      table.rows.push_back({p.id.grouped(), each->contents, p.load.text(), p.process_date.iso(),
                            p.opened_at ? names_.local_time(*p.opened_at) : "",
                            p.visit.value_or(words_.text("notice.no-visit"))});
    }
    add(std::move(table));
  }

  void list_missing() {
    heading("not-found");
    if (missing_.empty()) return add(Paragraph{words_.text("notice.none"), false});
    Table table = table_of({{"package", 22}, {"contents", 38}, {"load", 16}, {"place", 30}, {"why", 46}});
    for (const SuspectPackage* each : missing_) {
      table.rows.push_back(
          {each->package.id.grouped(), each->contents, each->package.load.text(), each->place, each->why});
    }
    add(std::move(table));
  }

  void list_done() {
    if (done_.empty()) return;
    heading("done");
    Table table =
        table_of({{"package", 22}, {"contents", 38}, {"load", 16}, {"disposition", 30}, {"why", 46}});
    for (const SuspectPackage* each : done_) {
      table.rows.push_back({each->package.id.grouped(), each->contents, each->package.load.text(),
                            words_.text(key("notice.disposition.", core::to_text(*each->disposition))),
                            each->why});
    }
    add(std::move(table));
  }

  const RecallNoticeFacts& facts_;
  const RecordNames& names_;
  const Words& words_;
  Packages to_find_, opened_, missing_, done_;
  Document document_;
};

}  // namespace

Document recall_notice(const RecallNoticeFacts& facts, const RecordNames& names, const Words& words) {
  return NoticeWriter{facts, names, words}.write();
}

}  // namespace loadlight::report
