// One column of a record's table: its shape, and the member that it keeps.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "blank.h"
#include "column_codec.h"
#include "table_shape.h"

namespace loadlight::store {

// Follows member pointers from a record to the value that a column keeps. An empty optional on the way
// is NULL; writing a value fills it.
template <auto Member, auto... Rest>
struct Path {
  template <class T>
  static SqlValue read(const T& record) {
    return read_member(record.*Member);
  }

  template <class T>
  static bool write(T& record, const SqlValue& value) {
    return write_member(record.*Member, value);
  }

 private:
  template <class M>
  static SqlValue read_member(const std::optional<M>& member) {
    return member ? read_member(*member) : SqlValue{};
  }
  template <class M>
  static SqlValue read_member(const M& member) {
    if constexpr (sizeof...(Rest) > 0) {
      return Path<Rest...>::read(member);
    } else {
      return encode(member);
    }
  }

  template <class M>
  static bool write_member(std::optional<M>& member, const SqlValue& value) {
    if (std::holds_alternative<std::monostate>(value)) return true;
    if (!member) member.emplace(blank<M>());
    return write_member(*member, value);
  }
  template <class M>
  static bool write_member(M& member, const SqlValue& value) {
    if constexpr (sizeof...(Rest) > 0) {
      return Path<Rest...>::write(member, value);
    } else {
      return decode(value, member);
    }
  }
};

template <class T, class M>
T record_of_member(M T::*);
template <class T, class M>
M type_of_member(M T::*);

template <auto Member, auto... Rest>
struct PathEnd {
  using Record = decltype(record_of_member(Member));
  using Value = typename PathEnd<Rest...>::Value;
  static constexpr bool kNullable =
      kIsOptional<decltype(type_of_member(Member))> || PathEnd<Rest...>::kNullable;
};
template <auto Member>
struct PathEnd<Member> {
  using Record = decltype(record_of_member(Member));
  using Value = decltype(type_of_member(Member));
  static constexpr bool kNullable = kIsOptional<Value>;
};

template <class T>
struct Column final {
  ColumnShape shape;
  SqlValue (*read)(const T& record);
  bool (*write)(T& record, const SqlValue& value);  // false: not a value of this column

  Column key() && {
    shape.key = true;
    return std::move(*this);
  }
  // Both ends included.
  Column between(int lowest, int highest) && {
    shape.check = shape.name + " BETWEEN " + std::to_string(lowest) + " AND " + std::to_string(highest);
    return std::move(*this);
  }
  // The key of another table.
  Column refers_to(std::string_view table) && {
    shape.refers = table;
    return std::move(*this);
  }
};

// column<&Load::readings, &Readings::minutes>("exposure_minutes")
template <auto... Members>
auto column(std::string_view name) {
  using End = PathEnd<Members...>;
  using T = typename End::Record;
  using Value = typename End::Value;
  ColumnShape shape{
      std::string{name}, column_type<Value>(), End::kNullable, column_check<Value>(name), {}, false};
  return Column<T>{std::move(shape), &Path<Members...>::template read<T>,
                   &Path<Members...>::template write<T>};
}

// The key of a table that has one row.
template <class T>
Column<T> only_row() {
  const auto read = [](const T&) { return SqlValue{std::int64_t{1}}; };
  const auto write = [](T&, const SqlValue& value) { return value == SqlValue{std::int64_t{1}}; };
  const std::string name{kOnlyRow};
  return {{name, ColumnType::Integer, false, name + " = 1", {}, true}, read, write};
}

}  // namespace loadlight::store
