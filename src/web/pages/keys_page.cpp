// The keys that sign the office's labels: which there are, and another one. A key itself is never shown.
#include "loadlight/app/add_key.h"
#include "web/package_view.h"
#include "web/pages/pages.h"

namespace loadlight::web {

Response keys_page(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto keys = app::list_keys((*office)->ports);
  if (!keys) return visit.failed(keys.failure());
  View list = View::array();
  for (const app::KeyLine& key : *keys) {
    list.push_back({{"number", key.number},
                    {"signs", key.signs},
                    {"at", key.at ? time_text(visit, (*office)->ports.zone, *key.at) : ""},
                    {"by", key.operator_code}});
  }
  return visit.page("pages/keys", {{"title", visit.word("page.set-up.keys")},
                                   {"at", "/set-up"},
                                   {"keys", list},
                                   {"add", visit.form_for("/set-up/keys")}});
}

Response add_office_key(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto key = app::add_key(visit.desk.world(), visit.desk.office_folder(), (*office)->ports,
                                visit.operator_code());
  if (!key) return visit.failed(key.failure());
  return visit.go_to("/set-up/keys", key->found ? "key-found" : "key-added",
                     {{"key", std::to_string(key->number)}});
}

}  // namespace loadlight::web
