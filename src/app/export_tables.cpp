#include "app/export_tables.h"

namespace loadlight::app {
namespace {

// "2026-11" of "2026-11-25".
std::string month_of(const std::optional<core::CivilDate>& day) {
  return day ? day->iso().substr(0, 7) : std::string{};
}

std::string_view how(Gives gives) {
  switch (gives) {
    case Gives::AsIs:
      return "";
    case Gives::Pseudonym:
      return "export.pseudonym";
    case Gives::Month:
      return "export.month";
    case Gives::Out:
      return "export.out";
  }
  return "export.out";
}

}  // namespace

std::string ExportTables::given(Gives gives, Alias alias, const Cell& cell) const {
  switch (gives) {
    case Gives::AsIs:
      return cell.text;
    case Gives::Pseudonym:
      return names_.of(alias, cell.text);
    case Gives::Month:
      return month_of(cell.day);
    case Gives::Out:
      return {};
  }
  return {};
}

void ExportTables::note(const report::Words& words, std::string_view table, std::string_view field, Gives gives,
                        std::string_view why) {
  if (gives == Gives::AsIs) return;
  const core::Details details{{"record", words.text("export.record." + std::string{table})},
                              {"field", std::string{field}},
                              {"why", words.text("export.why." + std::string{why})}};
  notes_ += words.text(how(gives), details) + "\r\n";
}

std::vector<exchange::ArchivedFile> ExportTables::take(const std::string& introduction) {
  std::vector<exchange::ArchivedFile> files{{"README.txt", introduction + notes_}};
  for (auto& [name, text] : files_) files.push_back({std::string{name} + ".csv", std::move(text)});
  files_.clear();
  return files;
}

}  // namespace loadlight::app
