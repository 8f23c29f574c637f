#include "loadlight/system/keyring.h"

#include <sodium.h>
#include <sys/stat.h>

#include <filesystem>
#include <mutex>
#include <optional>

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

// Tells one file from another that was put in its place.
struct FileStamp final {
  dev_t device{};
  ino_t number{};
  off_t length{};
  std::int64_t seconds{};
  std::int64_t nanoseconds{};
  friend bool operator==(const FileStamp&, const FileStamp&) = default;
};

std::optional<FileStamp> stamp_of(const std::string& path) {
  struct stat held {};
  if (::stat(path.c_str(), &held) != 0) return std::nullopt;
  return FileStamp{held.st_dev, held.st_ino, held.st_size, held.st_mtim.tv_sec, held.st_mtim.tv_nsec};
}

// The keys as they were read from one file; wiped when nobody holds them any more.
struct HeldKeys final {
  HeldKeys(std::vector<OfficeKey> read, std::optional<FileStamp> of) : keys(std::move(read)), stamp(of) {}
  ~HeldKeys() {
    for (OfficeKey& key : keys) sodium_memzero(key.secret.data(), key.secret.size());
  }
  HeldKeys(const HeldKeys&) = delete;
  HeldKeys& operator=(const HeldKeys&) = delete;

  std::vector<OfficeKey> keys;  // never empty
  std::optional<FileStamp> stamp;
};

Failure keys_unreadable(const std::string& path, const std::string& why) {
  return {FailureCode::KeysUnreadable, {{"path", path}, {"why", why}}, {}};
}

Result<std::vector<OfficeKey>> read_keys(const std::string& path) {
  if (sodium_init() < 0) return Failure{FailureCode::Internal, {}, {}};
  auto text = read_whole_file(path, kLargestKeyFile);
  if (!text) return keys_unreadable(path, text.failure().details.back().second);
  const auto keys = parse_keys(*text);
  sodium_memzero(text->data(), text->size());
  if (!keys) return keys_unreadable(path, "malformed");
  return *keys;
}

Result<std::shared_ptr<const HeldKeys>> hold_keys(const std::string& path) {
  const auto stamp = stamp_of(path);  // before the reading: a later file is then met as another
  auto keys = read_keys(path);
  if (!keys) return keys.failure();
  return std::make_shared<const HeldKeys>(*std::move(keys), stamp);
}

class OfficeKeyring final : public port::Keyring {
 public:
  OfficeKeyring(std::string path, std::shared_ptr<const HeldKeys> held)
      : path_(std::move(path)), held_(std::move(held)) {}

  std::string mac(std::string_view signed_part) const override {
    return authenticator(held()->keys.back().secret, signed_part);
  }

  bool verifies(std::string_view signed_part, std::string_view given) const override {
    bool fits = false;
    for (const OfficeKey& key : held()->keys) fits |= same_text(authenticator(key.secret, signed_part), given);
    return fits;
  }

  int current_key() const override { return held()->keys.back().id; }

  void fill_random(std::span<std::uint8_t> out) const override { randombytes_buf(out.data(), out.size()); }

 private:
  std::shared_ptr<const HeldKeys> held() const {
    const std::lock_guard lock{mutex_};
    const auto stamp = stamp_of(path_);
    if (stamp && stamp != held_->stamp) {
      if (auto read = hold_keys(path_)) held_ = *std::move(read);
    }
    return held_;
  }

  std::string path_;
  mutable std::mutex mutex_;
  mutable std::shared_ptr<const HeldKeys> held_;
};

Result<void> write_another(const std::string& path, std::vector<OfficeKey> keys, core::Instant now) {
  OfficeKey key{static_cast<int>(keys.size()) + 1, now, {}};
  randombytes_buf(key.secret.data(), key.secret.size());
  keys.push_back(key);
  const HeldKeys wiped{std::move(keys), {}};
  std::string text = print_keys(wiped.keys);
  sodium_memzero(key.secret.data(), key.secret.size());
  const auto written = write_atomically(path, text, kOwnerOnly);
  sodium_memzero(text.data(), text.size());
  return written;
}

}  // namespace

Result<std::unique_ptr<port::Keyring>> open_keyring(const std::string& office_folder) {
  const std::string path = key_path(office_folder);
  auto held = hold_keys(path);
  if (!held) return held.failure();
  return std::unique_ptr<port::Keyring>{std::make_unique<OfficeKeyring>(path, *std::move(held))};
}

Result<std::unique_ptr<port::Keyring>> create_keyring(const std::string& office_folder, core::Instant now) {
  const std::string path = key_path(office_folder);
  if (sodium_init() < 0) return Failure{FailureCode::Internal, {}, {}};
  struct stat held {};
  if (::lstat(path.c_str(), &held) == 0) return Failure{FailureCode::FileExists, {{"path", path}}, {}};
  const auto written = write_another(path, {}, now);
  if (!written) return written.failure();
  return open_keyring(office_folder);
}

Result<void> add_key(const std::string& office_folder, core::Instant now) {
  const std::string path = key_path(office_folder);
  auto keys = read_keys(path);
  if (!keys) return keys.failure();
  return write_another(path, *std::move(keys), now);
}

}  // namespace loadlight::system
