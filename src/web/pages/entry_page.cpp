#include <algorithm>

#include "loadlight/app/service_sterilizer.h"
#include "web/entry_fields.h"
#include "web/office_table.h"
#include "web/package_view.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using app::OfficeTable;
using app::Row;

core::Result<View> services_of(Visit& visit, const std::string& sterilizer) {
  const auto office = visit.desk.office();
  if (!office) return office.failure();
  const auto log = app::service_log((*office)->ports, sterilizer);
  if (!log) return log.failure();
  View list = View::array();
  for (const core::ServiceEntry& entry : *log) {
    list.push_back({{"number", entry.number},
                    {"kind", visit.word("service." + code_text(entry.kind))},
                    {"note", entry.note},
                    {"reset", entry.counter_reset},
                    {"next_due", entry.next_due ? day_text(visit, *entry.next_due) : ""},
                    {"by", entry.done_by},
                    {"at", time_text(visit, (*office)->ports.zone, entry.done_at)}});
  }
  return list;
}

View service_kinds(const Visit& visit) {
  View list = View::array();
  for (const char* kind : {"installed", "maintenance", "repair", "moved"}) {
    list.push_back({{"value", kind},
                    {"text", visit.word("service." + std::string{kind})},
                    {"selected", std::string_view{kind} == "maintenance"}});
  }
  return list;
}

core::Result<View> sterilizer_view(Visit& visit, const Row& row) {
  auto log = services_of(visit, code_of(row));
  if (!log) return log.failure();
  return View{{"log", *log},
              {"no_log", log->empty()},
              {"in_service", cell_of(row, "in_service") == "yes"},
              {"kinds", service_kinds(visit)},
              {"code", code_of(row)},
              {"service", visit.form_for("/set-up/sterilizer/service")},
              {"out", visit.form_for("/set-up/sterilizer/out")},
              {"return", visit.form_for("/set-up/sterilizer/return")}};
}

// What can be done with an entry of this table, beyond retiring it.
core::Result<void> add_acts(Visit& visit, OfficeTable table, const Row& row, View& view) {
  const std::string& code = code_of(row);
  if (table == OfficeTable::Operators) {
    view["operator"] = {{"code", code},
                        {"pin", visit.form_for("/set-up/operator/pin")},
                        {"badge", "/set-up/badge?operator=" + url_escaped(code)}};
  } else if (table == OfficeTable::Sterilizers) {
    auto sterilizer = sterilizer_view(visit, row);
    if (!sterilizer) return sterilizer.failure();
    view["sterilizer"] = std::move(*sterilizer);
  } else if (table == OfficeTable::Locations) {
    view["location"] = {{"tag", "/set-up/shelf-tag?location=" + url_escaped(code)}};
  } else if (table == OfficeTable::Stocks) {
    view["stock"] = {{"code", code},
                     {"direct", cell_of(row, "method") == "direct-thermal"},
                     {"rate", visit.form_for("/set-up/stock/rate")}};
  } else if (table == OfficeTable::Programs) {
    view["program"] = {{"code", code},
                       {"accepted", !cell_of(row, "accepted_by").empty()},
                       {"accept", visit.form_for("/set-up/program/accept")}};
  }
  return {};
}

}  // namespace

Response entry_page(Visit& visit) {
  const auto table = table_named(visit.parameter("table"));
  if (!table) return visit.failed({core::FailureCode::PageUnknown, {}, {}});
  if (visit.asked("code").empty()) return visit.go_to(path_of(*table));
  const auto rows = rows_of(visit, *table);
  if (!rows) return visit.failed(rows.failure());
  const auto row = std::find_if(rows->begin(), rows->end(),
                                [&](const Row& each) { return code_of(each) == visit.asked("code"); });
  const std::string name{app::text_of(*table).name};
  if (row == rows->end()) {
    const std::string asked{visit.asked("code").substr(0, 60)};
    return visit.failed({core::FailureCode::CodeUnknown, {{"table", name}, {"code", asked}}, {}});
  }
  View cells = View::array();
  for (const auto& [column, value] : *row) {
    if (value.empty()) continue;
    cells.push_back({{"heading", column_text(visit, column)}, {"value", value_text(visit, column, value)}});
  }
  View view{{"title", visit.word("page.set-up." + name) + ": " + code_of(*row)},
            {"at", "/set-up"},
            {"cells", cells},
            {"table_link", path_of(*table)},
            {"table_title", visit.word("page.set-up." + name)}};
  if (const auto ok = add_acts(visit, *table, *row, view); !ok) return visit.failed(ok.failure());
  if (!is_retired(*row)) {
    view["retire"] = visit.form_for(path_of(*table) + "/retire");
    view["retire"]["code"] = code_of(*row);
  }
  return visit.page("pages/entry", std::move(view));
}

}  // namespace loadlight::web
