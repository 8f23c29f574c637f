// How the recall of a lot is told.
#pragma once

#include "cli/context.h"
#include "loadlight/app/recall_lot.h"

namespace loadlight::cli {

// A line a load, a line a package as `recall` has them, and one for the lot. `office`: of a group, for every line.
void answer_lot(const Context& context, const app::LotRecall& recall, const std::string& office = {});

// "office", where one is named, before all else.
Json of_office(const std::string& office, const Json& object);
std::string line_of_office(const std::string& office, const std::string& line);

}  // namespace loadlight::cli
