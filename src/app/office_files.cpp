#include "office_files.h"

namespace loadlight::app {

core::Result<std::optional<std::string>> bytes_of(const World& world, const std::string& path, const OfficeFile& file) {
  auto bytes = world.files.read(path, static_cast<std::size_t>(file.largest));
  if (bytes) return std::optional{std::move(*bytes)};
  const bool absent = !bytes.failure().details.empty() && bytes.failure().details.back().second == "absent";
  if (!file.needed && absent) return std::optional<std::string>{};
  return bytes.failure();
}

}  // namespace loadlight::app
