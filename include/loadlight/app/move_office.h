// Use case: an office moves from a folder to a group's database, or back.
#pragma once

#include <functional>
#include <string>

#include "loadlight/app/world.h"

namespace loadlight::app {

struct MoveRequest final {
  std::string from, to;  // a folder or an address each
  std::string operator_code;
};

enum class MoveStep { Copying, VerifyingOld, CopyingRest, VerifyingNew };

struct MoveProgress final {
  MoveStep step = MoveStep::Copying;
  std::int64_t done = 0, all = 0;
};

struct MoveReply final {
  std::int64_t entries = 0;  // that were copied by this call
  bool was_done = false;     // the office had moved there before
};

// By a lead. People may work on until everything but the rest is copied; then the old place takes no more changes, and
// says where the office is. The new one is the office's once its ledger was verified and ends as the old one's does;
// keys, PINs and checkpoints are there too. A move that was stopped or broke off is gone on with by the same call;
// until then the office is where it was, or, at the very end, in neither.
//
// OfficeExists when people work on another record there; RecordsDiffer; RecordAltered (details: path, count, where).
core::Result<MoveReply> move_office(const World& world, const MoveRequest& request,
                                    const std::function<bool(const MoveProgress&)>& goes_on = {});

}  // namespace loadlight::app
