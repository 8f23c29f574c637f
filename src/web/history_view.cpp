#include "web/history_view.h"

#include <algorithm>

#include "web/package_view.h"

namespace loadlight::web {
namespace {

using core::EventKind;

std::string_view detail_of(const port::FoundEvent& event, std::string_view name) {
  for (const auto& [key, value] : event.details) {
    if (key == name) return value;
  }
  return {};
}

std::string grouped(const std::string& id) {
  const auto parsed = core::PackageId::parse_exact(id);
  return parsed ? parsed->grouped() : id;
}

// A detail of an event in words, where the catalogue has some for it.
std::string worded(const Visit& visit, const std::string& name, const std::string& value) {
  if (name == "by") return grouped(value);
  for (const char* key : {"record.", "event."}) {
    const std::string whole = key + name + "." + value;
    if ((name == "place" || name == "test" || name == "result") && visit.language.words.has(whole)) {
      return visit.word(whole);
    }
  }
  return value;
}

// What fills the gaps of an event's sentence: what the event says of itself, and what the record adds.
core::Details gaps_of(const Visit& visit, const port::FoundEvent& event, const app::PackageHistory& history) {
  core::Details gaps{{"subject", grouped(event.subject)}};
  for (const auto& [key, value] : event.details) {
    if (value.empty() || key == "outcome" || key == "reasons") continue;
    if (key == "visit" && !visit.who) continue;
    const bool withdrawal = event.kind == EventKind::PackageWithdrawn && key == "why";
    gaps.emplace_back(withdrawal ? "withdrawn" : key, worded(visit, key, value));
  }
  if (const auto outcome = detail_of(event, "outcome"); !outcome.empty()) {
    gaps.emplace_back("outcome", visit.word("outcome." + std::string{outcome}));
  }
  if (event.kind == EventKind::PackageOpened && history.package.visit && visit.who) {
    gaps.emplace_back("visit", *history.package.visit);
  }
  return gaps;
}

// The key of an event's sentence; some kinds read differently from the other end.
std::string key_of(const port::FoundEvent& event, const app::PackageHistory& history) {
  const std::string key = "event." + code_text(event.kind);
  if (event.kind == EventKind::LabelReplaced && event.subject != history.package.id.text()) return key + ".new";
  if (event.kind == EventKind::PackageChecked && detail_of(event, "at") == "open") return key + ".refused";
  return key;
}

std::vector<std::string> codes_in(std::string_view list) {
  std::vector<std::string> codes;
  while (!list.empty()) {
    const auto end = std::min(list.find(' '), list.size());
    if (end > 0) codes.emplace_back(list.substr(0, end));
    list.remove_prefix(std::min(end + 1, list.size()));
  }
  return codes;
}

// Reasons of a check or decision, and what the eyes saw.
View lines_of(const Visit& visit, const port::FoundEvent& event) {
  View lines = View::array();
  for (const std::string& code : codes_in(detail_of(event, "reasons"))) {
    const std::string key = "reason." + code + ".text";
    if (visit.language.words.has(key)) lines.push_back(visit.word(key));
  }
  for (const char* eye : {"dry", "intact", "indicator"}) {
    const std::string key = "event.eye." + std::string{eye} + "." + std::string{detail_of(event, eye)};
    if (visit.language.words.has(key)) lines.push_back(visit.word(key));
  }
  return lines;
}

bool is_of_load(const port::FoundEvent& event, const app::PackageHistory& history) {
  return event.subject == history.package.load.text() && event.kind != EventKind::LabelsPrinted &&
         event.kind != EventKind::PackagesAdded && event.kind != EventKind::PackagesRemoved;
}

}  // namespace

core::Result<People> people_of(const port::Unit& unit) {
  const auto all = unit.operators().all();
  if (!all) return all.failure();
  People people;
  for (const core::Operator& each : *all) people[each.code] = each.name;
  return people;
}

std::string person_text(const People& people, const std::string& code) {
  const auto found = people.find(code);
  return found == people.end() ? code : found->second + " (" + code + ")";
}

View history_view(const Visit& visit, const port::Zone& zone, const People& people,
                  const app::PackageHistory& history, std::size_t limit) {
  View list = View::array();
  for (auto event = history.events.rbegin(); event != history.events.rend(); ++event) {
    if (list.size() == limit) break;
    list.push_back({{"what", visit.word(key_of(*event, history), gaps_of(visit, *event, history))},
                    {"who", person_text(people, event->operator_code)},
                    {"when", time_text(visit, zone, event->at)},
                    {"lines", lines_of(visit, *event)},
                    {"kind", code_text(event->kind)},
                    {"of_load", is_of_load(*event, history)},
                    {"outcome", detail_of(*event, "outcome")}});
  }
  return list;
}

}  // namespace loadlight::web
