// Whether a group's database is there at all.
#pragma once

#include <string>

namespace loadlight::store {

// True when a server at the address takes connections, whomever it lets in; false when none answers, or it is starting or
// ending. Waits a few seconds for it at the most, unless the address says otherwise.
bool server_answers(const std::string& address);

}  // namespace loadlight::store
