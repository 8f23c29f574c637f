#include "loadlight/app/back_up.h"
#include "web/pages/pages.h"

namespace loadlight::web {

Response backup_page(Visit& visit) {
  return visit.page("pages/backup", {{"title", visit.word("page.set-up.backup")}, {"at", "/set-up"}});
}

Response backup_archive(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  auto backup = app::back_up(visit.desk.world(), visit.desk.office_folder(), (*office)->ports,
                             visit.operator_code());
  if (!backup) return visit.failed(backup.failure());
  Response response = visit.file(std::move(backup->archive), "application/x-tar");
  response.headers.emplace_back("Content-Disposition", "attachment; filename=\"" + backup->name + "\"");
  return response;
}

}  // namespace loadlight::web
