// The tables of one export as they are filled: what its reader gets of each record, as CSV, and what of each field
// is left out, as sentences.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "app/export_fields.h"
#include "app/export_pseudonyms.h"
#include "loadlight/exchange/archive.h"
#include "loadlight/exchange/csv.h"
#include "loadlight/report/words.h"

namespace loadlight::app {

class ExportTables final {
 public:
  ExportTables(ExportReader reader, const Ports& ports) : reader_(reader), zone_(&ports.zone), names_(ports.keyring) {}

  // Begins a record's table, or says that the reader gets nothing of it.
  template <class Record>
  void begin(const report::Words& words);
  template <class Record>
  void add(const Record& record);

  // A file for each table, the sentences before them.
  std::vector<exchange::ArchivedFile> take(const std::string& introduction);

 private:
  std::string given(Gives gives, Alias alias, const Cell& cell) const;
  void note(const report::Words& words, std::string_view table, std::string_view field, Gives gives,
            std::string_view why);

  ExportReader reader_;
  const port::Zone* zone_;
  ExportPseudonyms names_;
  std::map<std::string_view, std::string> files_;
  std::string notes_;
};

template <class Record>
void ExportTables::begin(const report::Words& words) {
  const ExportTable<Record>& table = export_table<Record>();
  exchange::CsvRow header;
  bool any = false;
  for (const ExportField<Record>& field : table.fields) {
    const Gives gives = field.for_reader(reader_);
    note(words, table.name, field.name, gives, field.why);
    if (gives == Gives::Out) continue;
    header.add(field.name);
    any = true;
  }
  if (any) files_[table.name] = header.line();
}

template <class Record>
void ExportTables::add(const Record& record) {
  const ExportTable<Record>& table = export_table<Record>();
  const auto file = files_.find(table.name);
  if (file == files_.end()) return;
  exchange::CsvRow row;
  for (const ExportField<Record>& field : table.fields) {
    const Gives gives = field.for_reader(reader_);
    if (gives != Gives::Out) row.add(given(gives, field.alias, field.cell(record, *zone_)));
  }
  file->second += row.line();
}

}  // namespace loadlight::app
