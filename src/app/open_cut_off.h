// Opening a package while the record cannot be reached.
#pragma once

#include "loadlight/app/open_package.h"

namespace loadlight::app {

// Judges by the copy, and lays the opening by: it is written once the record is back. `why` is how the record failed,
// and the answer wherever the copy may not stand in, and to whatever else than opening is called for.
core::Result<OpenReply> open_cut_off(const Ports& ports, const OpenRequest& request, const core::Failure& why);

// What the eyes saw, as events tell it.
std::vector<std::pair<std::string, std::string>> eyes_details(const OpenRequest& request);
bool eyes_say_yes(const OpenRequest& request);
CheckItem item_for(std::string_view reference);

}  // namespace loadlight::app
