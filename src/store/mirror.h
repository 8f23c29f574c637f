// The same over sessions that stand open.
#pragma once

#include "loadlight/store/mirror.h"
#include "sql_session.h"

namespace loadlight::store {

core::Result<MirrorReply> mirror_sessions(SqlSession& source, SqlSession& target, const MirrorOptions& options);

}  // namespace loadlight::store
