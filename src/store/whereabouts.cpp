#include "whereabouts.h"

#include <utility>

namespace loadlight::store {
namespace {

using core::FailureCode;

core::Failure elsewhere(const SqlSession& session, const Whereabouts& whereabouts) {
  core::Failure failure = session.damaged("not the office's record at present");
  failure.code = whereabouts.state == Standing::Moved ? FailureCode::OfficeMoved : FailureCode::OfficeArriving;
  failure.details.emplace_back("place", whereabouts.place);
  return failure;
}

}  // namespace

template <>
const RecordTable<Whereabouts>& table_of() {
  static const RecordTable<Whereabouts> table{
      "whereabouts",
      "whereabouts",
      {only_row<Whereabouts>(), column<&Whereabouts::state>("state"), column<&Whereabouts::place>("place")}};
  return table;
}

core::Result<Whereabouts> read_whereabouts(SqlSession& session) {
  auto found = table_of<Whereabouts>().select_first(session, "", {});
  if (!found) return found.failure();
  return found->value_or(Whereabouts{});
}

core::Result<void> write_whereabouts(SqlSession& session, const Whereabouts& whereabouts) {
  const auto& table = table_of<Whereabouts>();
  auto written = session.run(session.dialect().upsert_sql(table.shape()), table.row_of(whereabouts));
  if (!written) return written;
  return whereabouts.state == Standing::Here ? session.continue_ledger() : session.close_ledger();
}

core::Result<void> must_be_here(SqlSession& session) {
  const auto found = read_whereabouts(session);
  if (!found) return found.failure();
  if (found->state == Standing::Here) return {};
  return elsewhere(session, *found);
}

}  // namespace loadlight::store
