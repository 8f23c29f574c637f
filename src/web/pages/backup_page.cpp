#include "loadlight/app/back_up.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

// An archive on its way to a browser.
class ArchiveInMemory final : public port::NewFile {
 public:
  core::Result<void> append(std::string_view more) override {
    if (bytes.size() + more.size() > kLargest) {
      return core::Failure{core::FailureCode::FileUnreadable, {{"path", "record.db"}, {"why", "too-large"}}, {}};
    }
    bytes.append(more);
    return {};
  }
  core::Result<void> put_in_place() override { return {}; }
  void take_back() override { bytes.clear(); }

  std::string bytes;

 private:
  static constexpr std::size_t kLargest = std::size_t{1} << 30;  // to be handed out whole
};

}  // namespace

Response backup_page(Visit& visit) {
  return visit.page("pages/backup", {{"title", visit.word("page.set-up.backup")}, {"at", "/set-up"}});
}

Response backup_archive(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  ArchiveInMemory archive;
  const auto done = app::back_up(visit.desk.world(), visit.desk.office_folder(), (*office)->ports,
                                 visit.operator_code(), archive);
  if (!done) return visit.failed(done.failure());
  const std::string name = app::backup_name((*office)->ports);
  Response response = visit.file(std::move(archive.bytes), "application/x-tar");
  response.headers.emplace_back("Content-Disposition", "attachment; filename=\"" + name + "\"");
  return response;
}

}  // namespace loadlight::web
