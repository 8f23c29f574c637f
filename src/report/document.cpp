#include "loadlight/report/document.h"

namespace loadlight::report {

Table set_abreast(const Table& table, std::size_t count) {
  Table wide;
  wide.fine = table.fine;
  wide.continued = table.continued;
  for (std::size_t i = 0; i < count; ++i) {
    wide.columns.insert(wide.columns.end(), table.columns.begin(), table.columns.end());
  }
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    if (i % count == 0) wide.rows.emplace_back();
    TableRow& row = wide.rows.back();
    row.insert(row.end(), table.rows[i].begin(), table.rows[i].end());
  }
  for (TableRow& row : wide.rows) row.resize(wide.columns.size());
  return wide;
}

}  // namespace loadlight::report
