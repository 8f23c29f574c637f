// Tells a person how far an office's move has come: each step as it begins, and how far it is now and then.
#pragma once

#include <optional>

#include "cli/context.h"
#include "loadlight/app/move_office.h"

namespace loadlight::cli {

class MoveTelling final {
 public:
  explicit MoveTelling(const Context& context) : context_(context) {}

  bool operator()(const app::MoveProgress& at);  // always true: the move goes on

 private:
  const Context& context_;
  std::optional<app::MoveStep> step_;
  core::Instant told_{};
};

}  // namespace loadlight::cli
