// This station's own copy of an office's record in a group's database: a record in SQLite, in a folder beside the
// office's other files on this machine.
#pragma once

#include <memory>
#include <string>

#include "loadlight/port/local_copy.h"
#include "loadlight/store/group_part.h"

namespace loadlight {

std::unique_ptr<port::LocalCopy> open_local_copy(const store::GroupPart& part, const std::string& address);

// After a commit of this station: the copy is outdated unless it speaks against no package.
void note_for_copy(const std::string& address, const port::Committed& done);

}  // namespace loadlight
