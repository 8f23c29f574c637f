// All tables of the record.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "ledger.h"
#include "loadlight/core/events.h"
#include "record_table.h"
#include "sql_dialect.h"

namespace loadlight::store {

// Raised with every change of a table. A record with a higher one was made by a later program.
inline constexpr int kSchemaVersion = 6;

template <>
const RecordTable<core::Office>& table_of();
template <>
const RecordTable<core::Operator>& table_of();
template <>
const RecordTable<core::Sterilizer>& table_of();
template <>
const RecordTable<core::Contents>& table_of();
template <>
const RecordTable<core::PackageKind>& table_of();
template <>
const RecordTable<core::Location>& table_of();
template <>
const RecordTable<core::LabelStock>& table_of();
template <>
const RecordTable<core::OfficeProgram>& table_of();
template <>
const RecordTable<core::Consumable>& table_of();
template <>
const RecordTable<core::OfficeSetting>& table_of();
template <>
const RecordTable<core::ServiceEntry>& table_of();
template <>
const RecordTable<core::BiologicalRun>& table_of();
template <>
const RecordTable<core::CycleLog>& table_of();
template <>
const RecordTable<core::IncidentStep>& table_of();
template <>
const RecordTable<core::Accounting>& table_of();
template <>
const RecordTable<core::PrintRun>& table_of();
template <>
const RecordTable<core::Package>& table_of();
template <>
const RecordTable<core::Load>& table_of();
template <>
const RecordTable<core::IndicatorReading>& table_of();
template <>
const RecordTable<core::BiologicalReading>& table_of();
template <>
const RecordTable<core::Incident>& table_of();

// The tables that events change: one for each type of core::Record, in its order.
std::vector<const TableShape*> record_tables();
// The one of this name; null when there is none.
const TableShape* record_table(std::string_view name);

// What makes every table, the ledger among them, in an empty database.
std::vector<std::string> schema_statements(const SqlDialect& dialect);

// Makes every table, the ledger among them, in an empty database, and marks it as a record of ours.
core::Result<void> create_schema(SqlSession& session);

}  // namespace loadlight::store
