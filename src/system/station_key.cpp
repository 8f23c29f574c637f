#include "station_key.h"

#include <sodium.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <filesystem>
#include <optional>

#include "atomic_write.h"
#include "checkpoint_text.h"
#include "descriptor.h"
#include "loadlight/system/files.h"

namespace loadlight::system {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr std::size_t kLargestKey = 4 << 10;  // bytes of its file

// Wiped when it goes.
struct SigningKey final {
  SigningKey() = default;
  ~SigningKey() { sodium_memzero(bytes.data(), bytes.size()); }
  SigningKey(const SigningKey&) = delete;
  SigningKey& operator=(const SigningKey&) = delete;

  std::array<unsigned char, crypto_sign_SECRETKEYBYTES> bytes{};
};

std::string key_path(const std::string& folder) {
  return folder + "/signing.key";
}

std::string hex(const unsigned char* bytes, std::size_t count) {
  std::string digits(2 * count + 1, '\0');
  sodium_bin2hex(digits.data(), digits.size(), bytes, count);
  digits.pop_back();
  return digits;
}

bool from_hex(std::string_view digits, unsigned char* bytes, std::size_t count) {
  std::size_t got = 0;
  const char* end = nullptr;
  return digits.size() == 2 * count &&
         sodium_hex2bin(bytes, count, digits.data(), digits.size(), nullptr, &got, &end) == 0 && got == count &&
         end == digits.data() + digits.size();
}

// The seed as hex digits and a line's end: what the file holds.
Result<void> read_key(const std::string& path, SigningKey& key) {
  auto text = read_whole_file(path, kLargestKey);
  if (!text) return text.failure();
  while (!text->empty() && text->back() == '\n') text->pop_back();
  std::array<unsigned char, crypto_sign_SEEDBYTES> seed{};
  const bool fits = from_hex(*text, seed.data(), seed.size());
  std::array<unsigned char, crypto_sign_PUBLICKEYBYTES> open{};
  if (fits) crypto_sign_seed_keypair(open.data(), key.bytes.data(), seed.data());
  sodium_memzero(text->data(), text->size());
  sodium_memzero(seed.data(), seed.size());
  if (!fits) return Failure{FailureCode::FileUnreadable, {{"path", path}, {"why", "malformed"}}, {}};
  return {};
}

// Under a name of its own first, then linked: whoever is first stays.
Result<void> make_key(const std::string& path) {
  std::array<unsigned char, crypto_sign_SEEDBYTES> seed{};
  randombytes_buf(seed.data(), seed.size());
  const std::string draft = path + "." + std::to_string(::getpid()) + "-" +
                            std::to_string(randombytes_random());
  std::string text = hex(seed.data(), seed.size()) + "\n";
  const auto written = write_atomically(draft, text, kOwnerOnly);
  sodium_memzero(text.data(), text.size());
  sodium_memzero(seed.data(), seed.size());
  if (!written) return written;
  const int error = ::link(draft.c_str(), path.c_str()) == 0 ? 0 : errno;
  ::unlink(draft.c_str());
  if (error != 0 && error != EEXIST) return unwritable(path, error);
  return {};
}

Result<void> load_key(const std::string& folder, SigningKey& key) {
  const std::string path = key_path(folder);
  std::error_code ignored;
  if (!std::filesystem::exists(path, ignored)) {
    if (const auto made = make_key(path); !made) return made;
  }
  return read_key(path, key);
}

std::string open_half(const SigningKey& key) {
  std::array<unsigned char, crypto_sign_PUBLICKEYBYTES> open{};
  crypto_sign_ed25519_sk_to_pk(open.data(), key.bytes.data());
  return hex(open.data(), open.size());
}

const unsigned char* bytes_of(const std::string& text) {
  return reinterpret_cast<const unsigned char*>(text.data());
}

}  // namespace

Result<core::Checkpoint> sign_checkpoint(const std::string& station_folder, core::Checkpoint checkpoint) {
  if (sodium_init() < 0) return Failure{FailureCode::Internal, {}, {}};
  SigningKey key;
  if (const auto loaded = load_key(station_folder, key); !loaded) return loaded.failure();
  checkpoint.key = open_half(key);
  const std::string bytes = signed_bytes(checkpoint);
  std::array<unsigned char, crypto_sign_BYTES> signature{};
  crypto_sign_detached(signature.data(), nullptr, bytes_of(bytes), bytes.size(), key.bytes.data());
  checkpoint.signature = hex(signature.data(), signature.size());
  return checkpoint;
}

std::string public_key(const std::string& station_folder) {
  SigningKey key;
  if (sodium_init() < 0 || !read_key(key_path(station_folder), key)) return {};
  return open_half(key);
}

bool is_genuine(const core::Checkpoint& checkpoint) {
  std::array<unsigned char, crypto_sign_BYTES> signature{};
  std::array<unsigned char, crypto_sign_PUBLICKEYBYTES> key{};
  if (!from_hex(checkpoint.signature, signature.data(), signature.size())) return false;
  if (!from_hex(checkpoint.key, key.data(), key.size())) return false;
  const std::string bytes = signed_bytes(checkpoint);
  return crypto_sign_verify_detached(signature.data(), bytes_of(bytes), bytes.size(), key.data()) == 0;
}

}  // namespace loadlight::system
