#include "print_runs.h"

#include "schema.h"

namespace loadlight::store {

using core::PrintRun;

template <>
const RecordTable<PrintRun>& table_of() {
  static const RecordTable<PrintRun> table{
      "print_runs",
      "print-run",
      {column<&PrintRun::number>("number").key(), column<&PrintRun::template_name>("template_name"),
       column<&PrintRun::stock>("stock").refers_to("stocks"), column<&PrintRun::dpi>("dpi"),
       column<&PrintRun::first_cell>("first_cell"), column<&PrintRun::nudge_x_microns>("nudge_x_microns"),
       column<&PrintRun::nudge_y_microns>("nudge_y_microns"), column<&PrintRun::made_at>("made_at")}};
  return table;
}

core::Result<std::optional<PrintRun>> PrintRuns::find(int number) const {
  return table_of<PrintRun>().select_first(session_, "WHERE number = $1", {number});
}

core::Result<int> PrintRuns::highest_number() const {
  return highest(session_, "SELECT max(number) FROM print_runs");
}

}  // namespace loadlight::store
