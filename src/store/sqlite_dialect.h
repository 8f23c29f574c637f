// What SQLite calls things.
#pragma once

#include "sql_dialect.h"

namespace loadlight::store {

const SqlDialect& sqlite_dialect();

}  // namespace loadlight::store
