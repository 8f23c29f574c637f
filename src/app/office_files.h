// What an office's folder holds that is worth keeping: what a backup is made of, and nothing else is put back.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "loadlight/app/world.h"

namespace loadlight::app {

struct OfficeFile final {
  const char* name;
  bool needed;            // an office is none without it
  std::uint64_t largest;  // bytes
};

inline constexpr const char* kRecordName = "record.db";

// Checkpoints last: those of what the record's copy holds are then among them.
inline constexpr OfficeFile kOfficeFiles[] = {{kRecordName, true, std::uint64_t{16} << 30},
                                              {"keys.json", true, 1u << 20},
                                              {"pins.json", false, 1u << 20},
                                              {"printers.json", false, 1u << 20},
                                              {"authority.pem", false, 1u << 20},
                                              {"authority-key.pem", false, 1u << 20},
                                              {"station.pem", false, 1u << 20},
                                              {"station-key.pem", false, 1u << 20},
                                              {"checkpoints.jsonl", false, 256u << 20}};

// Of a file that an office can do without, and that is not there: nothing.
core::Result<std::optional<std::string>> bytes_of(const World& world, const std::string& path, const OfficeFile& file);

}  // namespace loadlight::app
