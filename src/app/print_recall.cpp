#include "loadlight/app/print_recall.h"

#include <map>

#include "app/document_pages.h"
#include "loadlight/app/incidents.h"
#include "loadlight/exchange/csv.h"
#include "loadlight/report/recall_notice.h"

namespace loadlight::app {
namespace {

using core::Result;

report::SuspectPackage on_paper(const Suspect& suspect, const std::map<std::string, std::string>& places) {
  report::SuspectPackage package{suspect.package,     suspect.contents_name, {},
                                 suspect.disposition, suspect.why,           suspect.called_back};
  if (!suspect.package.location) return package;
  const auto place = places.find(*suspect.package.location);
  package.place = place == places.end() ? *suspect.package.location : place->second;
  return package;
}

Result<std::map<std::string, std::string>> place_names(const port::Unit& unit) {
  const auto locations = unit.locations().all();
  if (!locations) return locations.failure();
  std::map<std::string, std::string> names;
  for (const core::Location& location : *locations) names.emplace(location.code, location.name);
  return names;
}

Result<report::RecordNames> names_on_paper(const Ports& ports, const port::Unit& unit) {
  const auto operators = unit.operators().all();
  if (!operators) return operators.failure();
  report::RecordNames names;
  const port::Zone& zone = ports.zone;
  names.local_time = [&zone](core::Instant at) { return zone.local_text(at); };
  for (const core::Operator& who : *operators) names.people.emplace(who.code, who.name);
  return names;
}

std::string csv_line(const Suspect& suspect) {
  exchange::CsvRow row;
  row.add(suspect.package.id.text()).add(suspect.package.load.text());
  row.add(suspect.disposition ? core::to_text(*suspect.disposition) : "on-shelf");
  row.add(suspect.package.location.value_or("")).add(suspect.package.visit.value_or(""));
  row.add(suspect.contents_name).add(suspect.called_back ? "yes" : "no");
  return row.line();
}

}  // namespace

Result<std::string> recall_csv(const Ports& ports, int incident) {
  exchange::CsvRow headings;
  for (const char* name : {"package", "load", "disposition", "location", "visit", "contents", "called_back"}) {
    headings.add(name);
  }
  std::string csv = headings.line();
  const auto visited =
      each_suspect(ports, incident, [&csv](const Suspect& suspect) { csv += csv_line(suspect); });
  if (!visited) return visited.failure();
  return csv;
}

Result<std::string> recall_notice_pdf(const Ports& ports, const PageShop& shop, int incident) {
  const auto view = show_incident(ports, incident);
  if (!view) return view.failure();
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto office = (**unit).office();
  if (!office) return office.failure();
  const auto places = place_names(**unit);
  if (!places) return places.failure();
  const auto names = names_on_paper(ports, **unit);
  if (!names) return names.failure();
  const auto sterilizer = (**unit).sterilizers().find(view->incident.sterilizer);
  if (!sterilizer) return sterilizer.failure();
  report::RecallNoticeFacts facts;
  facts.office = office->name;
  facts.incident = view->incident;
  facts.sterilizer = *sterilizer ? (**sterilizer).name : view->incident.sterilizer;
  if (!view->loads.empty()) {
    facts.first_load = view->loads.front().name.text();
    facts.last_load = view->loads.back().name.text();
  }
  for (const Suspect& suspect : view->suspects) facts.packages.push_back(on_paper(suspect, *places));
  facts.printed_at = ports.clock.now();
  DocumentPages pages{shop.paper, shop.gauge};
  if (const auto ok = pages.add(report::recall_notice(facts, *names, shop.words)); !ok) return ok.failure();
  const auto bound = pages.take([&](std::size_t page, std::size_t count) {
    return shop.words.text("record.page", {{"page", std::to_string(page)}, {"pages", std::to_string(count)}});
  });
  if (!bound) return bound.failure();
  return shop.press.print(*bound, facts.printed_at);
}

}  // namespace loadlight::app
