#include "key_file.h"

#include <sodium.h>

#include <exception>
#include <limits>
#include <nlohmann/json.hpp>

#include "whole_number.h"

namespace loadlight::system {
namespace {

using nlohmann::json;

std::string hex(const OfficeKey& key) {
  std::string out(2 * kKeyBytes + 1, '\0');
  sodium_bin2hex(out.data(), out.size(), key.secret.data(), key.secret.size());
  out.pop_back();
  return out;
}

bool read_hex(const std::string& text, OfficeKey& key) {
  std::size_t bytes = 0;
  const char* end = nullptr;
  return text.size() == 2 * kKeyBytes &&
         sodium_hex2bin(key.secret.data(), key.secret.size(), text.data(), text.size(), nullptr, &bytes,
                        &end) == 0 &&
         bytes == kKeyBytes && end == text.data() + text.size();
}

// Throws json::exception on any other shape.
std::optional<OfficeKey> read_key(const json& entry, int id) {
  const auto made_at = whole_number(entry.at("made_at"), std::numeric_limits<std::int64_t>::min(),
                                    std::numeric_limits<std::int64_t>::max());
  if (entry.size() != 3 || entry.at("id") != id || !made_at) return std::nullopt;
  OfficeKey key{id, core::instant_from(*made_at), {}};
  if (!read_hex(entry.at("key").get<std::string>(), key)) return std::nullopt;
  return key;
}

std::optional<std::vector<OfficeKey>> read_keys(const json& file) {
  const json& list = file.at("keys");
  if (file.size() != 1 || !list.is_array() || list.empty()) return std::nullopt;
  std::vector<OfficeKey> keys;
  for (const json& entry : list) {
    const auto key = read_key(entry, static_cast<int>(keys.size()) + 1);
    if (!key) return std::nullopt;
    keys.push_back(*key);
  }
  return keys;
}

}  // namespace

std::string print_keys(const std::vector<OfficeKey>& keys) {
  json list = json::array();
  for (const OfficeKey& key : keys) {
    list.push_back({{"id", key.id}, {"made_at", core::to_milliseconds(key.made_at)}, {"key", hex(key)}});
  }
  return json{{"keys", list}}.dump(1) + "\n";
}

std::optional<std::vector<OfficeKey>> parse_keys(std::string_view text) {
  try {
    return read_keys(json::parse(text));
  } catch (const std::exception&) {
    return std::nullopt;
  }
}

}  // namespace loadlight::system
