// The office tables as addresses and pages name them.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "loadlight/app/office_tables.h"
#include "web/visit.h"

namespace loadlight::web {

inline constexpr app::OfficeTable kTables[] = {
    app::OfficeTable::Operators, app::OfficeTable::Sterilizers, app::OfficeTable::Programs,
    app::OfficeTable::Contents,  app::OfficeTable::Kinds,       app::OfficeTable::Locations,
    app::OfficeTable::Stocks,    app::OfficeTable::Consumables};

std::optional<app::OfficeTable> table_named(std::string_view name);

// "/set-up/tables/<name>", and of one entry.
std::string path_of(app::OfficeTable table);
std::string path_of(app::OfficeTable table, std::string_view code);

// What an entry is known by: its first column.
const std::string& code_of(const app::Row& row);
std::string cell_of(const app::Row& row, std::string_view column);
bool is_retired(const app::Row& row);

// The rows of a table of the visited office.
core::Result<std::vector<app::Row>> rows_of(Visit& visit, app::OfficeTable table);

}  // namespace loadlight::web
