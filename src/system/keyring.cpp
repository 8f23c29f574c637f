#include "loadlight/system/keyring.h"

#include <sodium.h>
#include <sys/stat.h>

#include <filesystem>

#include "atomic_write.h"
#include "key_file.h"
#include "loadlight/system/files.h"
#include "mac.h"

namespace loadlight::system {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr std::size_t kLargestKeyFile = 1 << 20;  // bytes

std::string key_path(const std::string& office_folder) {
  return (std::filesystem::path{office_folder} / "keys.json").string();
}

class OfficeKeyring final : public port::Keyring {
 public:
  explicit OfficeKeyring(std::vector<OfficeKey> keys) : keys_(std::move(keys)) {}
  ~OfficeKeyring() override {
    for (OfficeKey& key : keys_) sodium_memzero(key.secret.data(), key.secret.size());
  }

  std::string mac(std::string_view signed_part) const override {
    return authenticator(keys_.back().secret, signed_part);
  }

  bool verifies(std::string_view signed_part, std::string_view given) const override {
    bool fits = false;
    for (const OfficeKey& key : keys_) fits |= same_text(authenticator(key.secret, signed_part), given);
    return fits;
  }

  void fill_random(std::span<std::uint8_t> out) const override { randombytes_buf(out.data(), out.size()); }

 private:
  std::vector<OfficeKey> keys_;  // never empty
};

Failure keys_unreadable(const std::string& path, const std::string& why) {
  return {FailureCode::KeysUnreadable, {{"path", path}, {"why", why}}, {}};
}

Result<std::vector<OfficeKey>> read_keys(const std::string& path) {
  if (sodium_init() < 0) return Failure{FailureCode::Internal, {}, {}};
  const auto text = read_whole_file(path, kLargestKeyFile);
  if (!text) return keys_unreadable(path, text.failure().details.back().second);
  const auto keys = parse_keys(*text);
  if (!keys) return keys_unreadable(path, "malformed");
  return *keys;
}

Result<std::unique_ptr<port::Keyring>> add_key(const std::string& path, std::vector<OfficeKey> keys,
                                               core::Instant now) {
  OfficeKey key{static_cast<int>(keys.size()) + 1, now, {}};
  randombytes_buf(key.secret.data(), key.secret.size());
  keys.push_back(key);
  const auto written = write_atomically(path, print_keys(keys), kOwnerOnly);
  if (!written) return written.failure();
  return std::unique_ptr<port::Keyring>{std::make_unique<OfficeKeyring>(std::move(keys))};
}

}  // namespace

Result<std::unique_ptr<port::Keyring>> open_keyring(const std::string& office_folder) {
  auto keys = read_keys(key_path(office_folder));
  if (!keys) return keys.failure();
  return std::unique_ptr<port::Keyring>{std::make_unique<OfficeKeyring>(*std::move(keys))};
}

Result<std::unique_ptr<port::Keyring>> create_keyring(const std::string& office_folder, core::Instant now) {
  const std::string path = key_path(office_folder);
  if (sodium_init() < 0) return Failure{FailureCode::Internal, {}, {}};
  struct stat held {};
  if (::lstat(path.c_str(), &held) == 0) return Failure{FailureCode::FileExists, {{"path", path}}, {}};
  return add_key(path, {}, now);
}

Result<std::unique_ptr<port::Keyring>> rotate_keyring(const std::string& office_folder, core::Instant now) {
  const std::string path = key_path(office_folder);
  auto keys = read_keys(path);
  if (!keys) return keys.failure();
  return add_key(path, *std::move(keys), now);
}

bool keys_are_private(const std::string& office_folder) {
  struct stat held {};
  return ::stat(key_path(office_folder).c_str(), &held) == 0 && (held.st_mode & 077) == 0;
}

}  // namespace loadlight::system
