// The fields of an entry of an office table, as a form shows them and gives them back. What columns there are is
// said by app/office_tables.h alone.
#pragma once

#include <string>
#include <string_view>

#include "loadlight/app/office_tables.h"
#include "web/visit.h"

namespace loadlight::web {

// For parts/entry-fields: a list of fields, each named `prefix` and its column's name. Values that `row` lacks are
// empty.
View entry_fields(const Visit& visit, app::OfficeTable table, const std::string& prefix, const app::Row& row = {});

// The entry that a form with those fields describes.
app::Row entry_of(const Visit& visit, app::OfficeTable table, const std::string& prefix);

// A value as people read it: terms and yes and no in words.
std::string value_text(const Visit& visit, const std::string& column, const std::string& value);

// The column's name as a heading.
std::string column_text(const Visit& visit, std::string_view column);

}  // namespace loadlight::web
