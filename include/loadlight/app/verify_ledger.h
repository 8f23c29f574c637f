// Use case: is the record whole? By its own chain, and by what was signed of it and kept, here and elsewhere.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "loadlight/app/ports.h"
#include "loadlight/port/checkpoints.h"

namespace loadlight::app {

// Checkpoints that somebody kept elsewhere: a file's path and text.
struct GivenCheckpoints final {
  std::string path;
  std::string text;
};

struct VerifyRequest final {
  std::vector<GivenCheckpoints> given{};
  std::function<bool(const port::VerifyProgress&)> goes_on{};  // may be empty
  bool copy = false;  // the record is a copy: what came after it says nothing against it
};

struct LedgerVerdict final {
  std::vector<port::Alteration> alterations;  // none: whole
  std::vector<core::Sentence> notes;          // what a person should know beside: how far checkpoints reach
};

// What the store says when it cannot be looked at.
core::Result<LedgerVerdict> verify_ledger(port::Store& store, const port::CheckpointBook& book,
                                          const VerifyRequest& request);

}  // namespace loadlight::app
