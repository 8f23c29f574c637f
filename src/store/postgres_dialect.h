// What PostgreSQL calls things, and how the tables of many offices are one there: a column of every key says
// whose row it is, and the server itself shows each office its own rows alone.
#pragma once

#include "sql_dialect.h"

namespace loadlight::store {

const SqlDialect& postgres_dialect();

}  // namespace loadlight::store
