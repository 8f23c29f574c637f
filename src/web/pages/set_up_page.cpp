#include <algorithm>

#include "web/lan_place.h"
#include "web/office_table.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using app::OfficeTable;

// Of a table: how many entries are in use, and whether the first label still needs one.
core::Result<View> line_of(Visit& visit, OfficeTable table) {
  const auto rows = rows_of(visit, table);
  if (!rows) return rows.failure();
  const auto in_use = std::count_if(rows->begin(), rows->end(), [](const app::Row& row) { return !is_retired(row); });
  const std::string name{app::text_of(table).name};
  const bool needed = table != OfficeTable::Programs && table != OfficeTable::Consumables &&
                      table != OfficeTable::Locations;
  return View{{"link", path_of(table)},
              {"what", visit.word("page.set-up." + name)},
              {"missing", needed && in_use == 0},
              {"count", visit.word("page.set-up.in-use", {{"count", std::to_string(in_use)}})}};
}

}  // namespace

Response set_up_page(Visit& visit) {
  View tables = View::array();
  for (const OfficeTable table : kTables) {
    auto line = line_of(visit, table);
    if (!line) return visit.failed(line.failure());
    tables.push_back(std::move(*line));
  }
  View more = View::array();
  for (const char* name : {"profile", "labels", "tablets", "keys", "clock", "export", "backup"}) {
    more.push_back({{"link", "/set-up/" + std::string{name}}, {"what", visit.word("page.set-up." + std::string{name})}});
  }
  more.push_back({{"link", "/pack/printers"}, {"what", visit.word("page.set-up.printers")}});
  View exposed = View::array();
  for (const std::string& name : visit.desk.world().exposed_files(visit.desk.office_folder())) exposed.push_back(name);
  return visit.page("pages/set-up", {{"title", visit.word("page.set-up.title")},
                                     {"any_exposed", !exposed.empty()},
                                     {"exposed", exposed},
                                     {"at", "/set-up"},
                                     {"tables", tables},
                                     {"more", more}});
}

}  // namespace loadlight::web
