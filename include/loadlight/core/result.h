// Result<T>: either a value or the Failure that kept an operation from happening.
//
// A Result is about *operations*. A judgement ("may this be opened?") is never a failure: it is a
// Verdict (verdict.h). Exceptions do not cross module boundaries; the leaf that meets one returns a
// Failure.
#pragma once

#include <cassert>
#include <optional>
#include <utility>
#include <variant>

#include "loadlight/core/failure.h"

namespace loadlight::core {

template <class T>
class [[nodiscard]] Result final {
 public:
  Result(T held) : held_(std::in_place_index<0>, std::move(held)) {}
  Result(Failure failure) : held_(std::in_place_index<1>, std::move(failure)) {}

  bool ok() const { return held_.index() == 0; }
  explicit operator bool() const { return ok(); }

  // The value. Asking a failed Result for it is a programmer's mistake.
  T& value() & { return assert(ok()), *std::get_if<0>(&held_); }
  const T& value() const& { return assert(ok()), *std::get_if<0>(&held_); }
  T&& value() && { return assert(ok()), std::move(*std::get_if<0>(&held_)); }
  T& operator*() & { return value(); }
  const T& operator*() const& { return value(); }
  T&& operator*() && { return std::move(*this).value(); }
  T* operator->() { return &value(); }
  const T* operator->() const { return &value(); }

  // The failure. Asking a successful Result for it is a programmer's mistake.
  const Failure& failure() const { return assert(!ok()), *std::get_if<1>(&held_); }

 private:
  std::variant<T, Failure> held_;
};

// An operation that yields nothing but its having happened.
template <>
class [[nodiscard]] Result<void> final {
 public:
  Result() = default;
  Result(Failure failure) : failure_(std::move(failure)) {}

  bool ok() const { return !failure_.has_value(); }
  explicit operator bool() const { return ok(); }
  const Failure& failure() const { return assert(!ok()), *failure_; }

 private:
  std::optional<Failure> failure_;
};

}  // namespace loadlight::core
