// Use case: everything of an office as one file, from which it can be put back elsewhere.
#pragma once

#include <string>
#include <string_view>

#include "loadlight/app/ports.h"
#include "loadlight/app/world.h"

namespace loadlight::app {

struct BackupReply final {
  std::int64_t entry = 0;  // the ledger's last in it
  std::string hash;        // of that entry
};

// "loadlight-2026-11-28.tar"
std::string backup_name(const Ports& ports);

// Record, keys, PINs, certificates and checkpoints: whoever has it can sign labels as this office. The record as
// it stood at one moment; nothing waits for it. The copy is opened and verified before `out` is put in its place:
// RecordAltered, LeadRequired, or what the disk says. That it was made is written into the ledger.
core::Result<BackupReply> back_up(const World& world, const std::string& office_folder, const Ports& ports,
                                  std::string_view operator_code, port::NewFile& out);

}  // namespace loadlight::app
