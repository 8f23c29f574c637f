#include "sqlite_statement.h"

#include <sqlite3.h>

#include <charconv>
#include <cstring>
#include <string>

#include "sqlite_failure.h"

namespace loadlight::store {
namespace {

core::Failure wrong_statement(std::string_view sql, std::string_view why) {
  return {core::FailureCode::Internal, {{"why", std::string{why} + ": " + std::string{sql}}}, {}};
}

int bind_text(sqlite3_stmt* statement, int place, const std::string& text) {
  return sqlite3_bind_text64(statement, place, text.data(), text.size(), SQLITE_TRANSIENT, SQLITE_UTF8);
}

}  // namespace

void SqliteStatement::Finalizer::operator()(sqlite3_stmt* statement) const {
  sqlite3_finalize(statement);
}

core::Result<SqliteStatement> SqliteStatement::prepare(sqlite3* database, std::string_view sql) {
  sqlite3_stmt* prepared = nullptr;
  const int size = static_cast<int>(sql.size());
  if (sqlite3_prepare_v3(database, sql.data(), size, SQLITE_PREPARE_PERSISTENT, &prepared, nullptr) !=
      SQLITE_OK) {
    return latest_failure(database);
  }
  SqliteStatement statement{database, prepared};
  if (auto numbered = statement.number_parameters(sql); !numbered) return numbered.failure();
  return statement;
}

core::Result<void> SqliteStatement::number_parameters(std::string_view sql) {
  const int count = sqlite3_bind_parameter_count(statement_.get());
  for (int place = 1; place <= count; ++place) {
    const char* name = sqlite3_bind_parameter_name(statement_.get(), place);
    std::size_t number = 0;
    if (name == nullptr || name[0] != '$') return wrong_statement(sql, "parameter without a number");
    std::from_chars(name + 1, name + std::strlen(name), number);
    if (number == 0) return wrong_statement(sql, "parameter without a number");
    numbers_.push_back(number);
  }
  return {};
}

core::Result<void> SqliteStatement::start(const SqlRow& parameters) {
  finish();
  for (std::size_t i = 0; i < numbers_.size(); ++i) {
    if (numbers_[i] > parameters.size())
      return wrong_statement(sqlite3_sql(statement_.get()), "too few values");
    if (bind(static_cast<int>(i + 1), parameters[numbers_[i] - 1]) != SQLITE_OK)
      return latest_failure(database_);
  }
  return {};
}

int SqliteStatement::bind(int place, const SqlValue& value) {
  sqlite3_stmt* statement = statement_.get();
  if (const auto* integer = std::get_if<std::int64_t>(&value)) {
    return sqlite3_bind_int64(statement, place, *integer);
  }
  if (const auto* real = std::get_if<double>(&value)) return sqlite3_bind_double(statement, place, *real);
  if (const auto* text = std::get_if<std::string>(&value)) return bind_text(statement, place, *text);
  return sqlite3_bind_null(statement, place);
}

core::Result<bool> SqliteStatement::step() {
  const int outcome = sqlite3_step(statement_.get());
  if (outcome == SQLITE_ROW) return true;
  if (outcome == SQLITE_DONE) return false;
  return latest_failure(database_);
}

SqlRow SqliteStatement::row() const {
  const int count = sqlite3_data_count(statement_.get());
  SqlRow row;
  row.reserve(static_cast<std::size_t>(count));
  for (int column = 0; column < count; ++column) row.push_back(value(column));
  return row;
}

SqlValue SqliteStatement::value(int column) const {
  sqlite3_stmt* statement = statement_.get();
  switch (sqlite3_column_type(statement, column)) {
    case SQLITE_INTEGER:
      return sqlite3_column_int64(statement, column);
    case SQLITE_FLOAT:
      return sqlite3_column_double(statement, column);
    case SQLITE_NULL:
      return std::monostate{};
    default: {  // text; our tables hold no blobs, and an altered one is read as the text it is not
      const auto* bytes = reinterpret_cast<const char*>(sqlite3_column_text(statement, column));
      const auto size = static_cast<std::size_t>(sqlite3_column_bytes(statement, column));
      return bytes ? std::string{bytes, size} : std::string{};
    }
  }
}

void SqliteStatement::finish() {
  sqlite3_reset(statement_.get());
  sqlite3_clear_bindings(statement_.get());
}

}  // namespace loadlight::store
