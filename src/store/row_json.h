// Rows as JSON: what the ledger keeps of every change, and what verification compares.
//
//   body = {"details": {key: value, …}, "records": [{"table": name, "row": {column: value, …}}, …]}
//
// Details stand in the order given; a key given several times holds a list. Columns stand in the table's
// order, with null for NULL and the shortest decimals that read back as the same number.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/core/failure.h"
#include "loadlight/core/result.h"
#include "table_shape.h"

namespace loadlight::store {

struct TableRow final {
  const TableShape* table = nullptr;
  SqlRow row;
};

// BadEncoding (details: what) when a text is no UTF-8 or holds a NUL; BadValue when a number is none.
core::Result<std::string> body_text(const core::Details& details, const std::vector<TableRow>& rows);

// The rows of a body, NULL where a column is not named; nothing when it is no body of ours.
std::optional<std::vector<TableRow>> rows_in_body(std::string_view body);

// The details of a body, a key's several values each by itself; nothing when it is no body of ours.
std::optional<core::Details> details_in_body(std::string_view body);

// The same text for the same values, whatever wrote them; nothing when it holds what no body can.
std::optional<std::string> row_text(const TableShape& table, const SqlRow& row);

// True iff it is UTF-8 without a NUL: what every engine keeps unchanged.
bool is_text(std::string_view text);

}  // namespace loadlight::store
