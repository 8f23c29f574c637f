// Use case: a station of a shared record keeps its own copy of it, where the office's profile asks for one.
#pragma once

#include <chrono>
#include <functional>
#include <optional>
#include <vector>

#include "loadlight/app/ports.h"

namespace loadlight::app {

struct CopyReply final {
  int minutes = 0;                     // how old the profile lets it be; 0: none is kept
  std::optional<core::Instant> taken;  // when it was
};

// Takes the copy anew, or leaves nothing of it when the profile asks for none. NoLocalCopy for an office in a folder,
// which is this station's own; else as port::LocalCopy::take().
core::Result<CopyReply> take_copy(const Ports& ports, const std::function<bool()>& goes_on = {});

// How long a copy is left as it is by a station that stays open: a quarter of what the profile lets it be old, half a
// minute at most.
std::chrono::seconds copy_interval(int minutes);

// False when this station wrote something after which a package may be judged worse than by the copy.
bool leaves_copies_right(const std::vector<core::EventKind>& written);

}  // namespace loadlight::app
