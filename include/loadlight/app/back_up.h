// Use case: everything of an office as one file, from which it can be put back elsewhere.
#pragma once

#include <string>
#include <string_view>

#include "loadlight/app/ports.h"
#include "loadlight/app/world.h"

namespace loadlight::app {

struct Backup final {
  std::string name;     // of the file: "loadlight-2026-11-28.tar"
  std::string archive;  // record, keys, PINs and certificates: whoever has it can sign labels as this office
};
// LeadRequired. The record as it stood at one moment, whole in itself; nothing waits for it.
core::Result<Backup> back_up(const World& world, const std::string& office_folder, const Ports& ports,
                             std::string_view operator_code);

}  // namespace loadlight::app
