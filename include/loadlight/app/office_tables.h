// Use cases: the office's tables. What columns an entry has is written once, in a table of columns per
// kind of entry (office_columns.cpp): commands, CSV import and lists all derive from it.
#pragma once

#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "loadlight/app/ports.h"
#include "loadlight/exchange/csv.h"

namespace loadlight::app {

enum class OfficeTable { Operators, Sterilizers, Contents, Kinds, Locations, Stocks, Programs, Consumables };

// One column of a table: how its text becomes part of an entry and comes back.
struct Column final {
  std::string_view name;   // in CSV headers, in JSON, and as an option of the add command
  bool required = true;
  bool yes_or_no = false;  // text is "yes" or "no"
  bool day = false;        // text is a day, YYYY-MM-DD
  std::span<const std::string_view> terms = {};  // text is one of these; empty: any
};

// An entry as texts by column name, in the order of the columns; absent ones are left out.
using Row = std::vector<std::pair<std::string, std::string>>;

struct TableText final {
  std::string_view name;      // "operator": the command, and the catalogue's "table.<name>"
  std::span<const Column> columns;
};

const TableText& text_of(OfficeTable table);

// Adds all rows in one change or none. BadValue, BadCode, CodeTaken; with several rows the failure is
// BadCsv and lists every error with its line. `lines` gives each row's line, empty for a typed row. While
// the office has no operator, the first operator added is a lead and acts for himself.
core::Result<std::vector<Row>> add_entries(const Ports& ports, std::string_view operator_code,
                                           OfficeTable table, const std::vector<Row>& rows,
                                           const std::vector<std::size_t>& lines = {});

// From a CSV file's text.
core::Result<std::vector<Row>> import_entries(const Ports& ports, std::string_view operator_code,
                                              OfficeTable table, std::string_view csv);

// Every entry, retired ones included, by code.
core::Result<std::vector<Row>> list_entries(const Ports& ports, OfficeTable table);

// From today on it is not offered any more; for an operator, today is the last day. CodeUnknown,
// CodeRetired.
core::Result<Row> retire_entry(const Ports& ports, std::string_view operator_code, OfficeTable table,
                               std::string_view code);

// Records why a stock may go through steam: its maker's sheet, or a recorded before-and-after trial.
struct RateStockRequest final {
  std::string operator_code;
  std::string code;
  core::SteamRating rating = core::SteamRating::MakerSheet;
  std::string note;  // the sheet's title and page, or what the trial showed; required
};
core::Result<Row> rate_stock(const Ports& ports, const RateStockRequest& request);

}  // namespace loadlight::app
