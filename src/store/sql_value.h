// What a column can hold, whichever engine keeps it.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

namespace loadlight::store {

// monostate is SQL's NULL.
using SqlValue = std::variant<std::monostate, std::int64_t, double, std::string>;
using SqlRow = std::vector<SqlValue>;

enum class ColumnType { Integer, Real, Text };

}  // namespace loadlight::store
