#include "loadlight/system/station_keys.h"

#include <sodium.h>
#include <unistd.h>

#include <cctype>
#include <filesystem>

#include "atomic_write.h"
#include "hand_over.h"
#include "key_file.h"
#include "loadlight/core/names.h"
#include "loadlight/system/files.h"
#include "loadlight/system/folders.h"
#include "loadlight/system/keyring.h"

namespace loadlight::system {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr std::size_t kLargestFile = 1 << 20;  // bytes
constexpr std::size_t kStationLength = 16;

std::string station_path(const std::string& folder) {
  return folder + "/station.json";
}
std::string key_path(const std::string& folder) {
  return folder + "/keys.json";
}

bool is_there(const std::string& path) {
  std::error_code error;
  return std::filesystem::exists(path, error) || error;
}

// What a chain may be called of this machine's name.
std::string name_of_machine() {
  char host[256] = "";
  ::gethostname(host, sizeof host - 1);
  std::string name;
  for (const char* c = host; *c != '\0' && name.size() < kStationLength; ++c) {
    if (std::isalnum(static_cast<unsigned char>(*c)) != 0) {
      name += static_cast<char>(std::toupper(static_cast<unsigned char>(*c)));
    }
  }
  return name.empty() ? "STATION" : name;
}

Result<HandOver> new_hand_over(const std::string& folder, const std::string& station) {
  if (sodium_init() < 0) return Failure{FailureCode::Internal, {}, {}};
  HandOver hand_over;
  hand_over.station = station.empty() ? name_of_machine() : station;
  if (!core::is_code(hand_over.station, kStationLength)) {
    return Failure{FailureCode::BadValue, {{"field", "station"}, {"given", station}}, {}};
  }
  if (is_there(station_path(folder))) {
    return Failure{FailureCode::FileExists, {{"path", station_path(folder)}}, {}};
  }
  return hand_over;
}

Result<void> keep(const std::string& folder, const HandOver& hand_over) {
  std::string text = print_hand_over(hand_over);
  auto written = write_atomically(station_path(folder), text, kOwnerOnly);
  sodium_memzero(text.data(), text.size());
  return written;
}

Result<HandOver> read_hand_over(const std::string& folder) {
  const std::string path = station_path(folder);
  if (!is_there(path)) return Failure{FailureCode::StationNotJoined, {{"path", folder}}, {}};
  auto text = read_whole_file(path, kLargestFile);
  if (!text) return Failure{FailureCode::KeysUnreadable, {{"path", path}, {"why", text.failure().details.back().second}}, {}};
  auto hand_over = parse_hand_over(*text);
  sodium_memzero(text->data(), text->size());
  if (!hand_over) return Failure{FailureCode::KeysUnreadable, {{"path", path}, {"why", "malformed"}}, {}};
  return *hand_over;
}

Failure malformed(const std::string& folder) {
  return {FailureCode::KeysUnreadable, {{"path", key_path(folder)}, {"why", "malformed"}}, {}};
}

// The keys' text, for whoever wipes it.
Result<std::string> keys_text(const std::string& folder) {
  auto text = read_whole_file(key_path(folder), kLargestFile);
  if (!text) return Failure{FailureCode::KeysUnreadable, {{"path", key_path(folder)}, {"why", text.failure().details.back().second}}, {}};
  return text;
}

bool begins_with(const std::vector<OfficeKey>& longer, const std::vector<OfficeKey>& keys) {
  if (longer.size() < keys.size()) return false;
  for (std::size_t i = 0; i < keys.size(); ++i) {
    if (sodium_memcmp(longer[i].secret.data(), keys[i].secret.data(), kKeyBytes) != 0) return false;
  }
  return true;
}

std::string wrapped_and_wiped(const HandOver& hand_over, std::string text) {
  std::string wrapped = wrapped_text(hand_over, text);
  sodium_memzero(text.data(), text.size());
  return wrapped;
}

}  // namespace

Result<void> found_station(const std::string& folder, const std::string& station, core::Instant now) {
  if (auto made = make_station_folder(folder); !made) return made;
  auto hand_over = new_hand_over(folder, station);
  if (!hand_over) return hand_over.failure();
  randombytes_buf(hand_over->key.data(), hand_over->key.size());
  // The keys first: a station with a name has keys.
  if (!is_there(key_path(folder))) {
    if (const auto made = create_keyring(folder, now); !made) return made.failure();
  }
  return keep(folder, *hand_over);
}

Result<void> join_station(const std::string& folder, const std::string& station, const std::string& code,
                          const std::string& wrapped) {
  if (auto made = make_station_folder(folder); !made) return made;
  auto hand_over = new_hand_over(folder, station);
  if (!hand_over) return hand_over.failure();
  if (!take_code(code, *hand_over)) return Failure{FailureCode::JoinCodeWrong, {}, {}};
  auto text = unwrapped_text(*hand_over, wrapped);
  if (!text || !parse_keys(*text)) return Failure{FailureCode::JoinCodeWrong, {}, {}};
  auto written = write_atomically(key_path(folder), *text, kOwnerOnly);
  sodium_memzero(text->data(), text->size());
  if (!written) return written;
  return keep(folder, *hand_over);
}

Result<std::string> invitation_of(const std::string& folder) {
  const auto hand_over = read_hand_over(folder);
  if (!hand_over) return hand_over.failure();
  return code_of(*hand_over);
}

Result<std::string> station_name(const std::string& folder) {
  const auto hand_over = read_hand_over(folder);
  if (!hand_over) return hand_over.failure();
  return hand_over->station;
}

Result<std::string> wrapped_keys(const std::string& folder) {
  const auto hand_over = read_hand_over(folder);
  if (!hand_over) return hand_over.failure();
  auto text = keys_text(folder);
  if (!text) return text;
  return wrapped_and_wiped(*hand_over, std::move(*text));
}

Result<std::string> wrapped_with_another_key(const std::string& folder, core::Instant now) {
  const auto hand_over = read_hand_over(folder);
  if (!hand_over) return hand_over.failure();
  auto text = keys_text(folder);
  if (!text) return text;
  auto keys = parse_keys(*text);
  sodium_memzero(text->data(), text->size());
  if (!keys) return malformed(folder);
  OfficeKey key{static_cast<int>(keys->size()) + 1, now, {}};
  randombytes_buf(key.secret.data(), key.secret.size());
  keys->push_back(key);
  auto wrapped = wrapped_and_wiped(*hand_over, print_keys(*keys));
  for (OfficeKey& each : *keys) sodium_memzero(each.secret.data(), each.secret.size());
  sodium_memzero(key.secret.data(), key.secret.size());
  return wrapped;
}

Result<void> take_wrapped_keys(const std::string& folder, const std::string& wrapped) {
  const auto hand_over = read_hand_over(folder);
  if (!hand_over) return hand_over.failure();
  auto given_text = unwrapped_text(*hand_over, wrapped);
  const auto given = given_text ? parse_keys(*given_text) : std::nullopt;
  auto own_text = keys_text(folder);
  if (!own_text) return own_text.failure();
  const auto own = parse_keys(*own_text);
  sodium_memzero(own_text->data(), own_text->size());
  if (!given || !own || !begins_with(*given, *own)) return malformed(folder);
  Result<void> written;
  if (given->size() > own->size()) written = write_atomically(key_path(folder), *given_text, kOwnerOnly);
  sodium_memzero(given_text->data(), given_text->size());
  return written;
}

}  // namespace loadlight::system
