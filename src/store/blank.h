// A record of each type with nothing in it yet, for its columns to fill.
#pragma once

#include "loadlight/core/dates.h"
#include "loadlight/core/incident.h"
#include "loadlight/core/names.h"
#include "loadlight/core/package.h"

namespace loadlight::store {

template <class T>
T blank() {
  return T{};
}
template <>
core::CivilDate blank<core::CivilDate>();
template <>
core::PackageId blank<core::PackageId>();
template <>
core::Package blank<core::Package>();
template <>
core::Accounting blank<core::Accounting>();

}  // namespace loadlight::store
