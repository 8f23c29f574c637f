// Rows of cells on pages: no row is broken unless it is taller than a page, headings are repeated.
#pragma once

#include <vector>

#include "app/page_flow.h"
#include "loadlight/report/document.h"

namespace loadlight::app {

core::Result<void> place_table(const report::Table& table, PageFlow& flow);
core::Result<void> place_key_values(const report::KeyValues& values, PageFlow& flow);

}  // namespace loadlight::app
