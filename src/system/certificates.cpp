#include "loadlight/system/certificates.h"

#include <arpa/inet.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <filesystem>

#include "atomic_write.h"
#include "loadlight/system/files.h"
#include "x509.h"

namespace loadlight::system {
namespace {

using core::Failure;
using core::FailureCode;
using core::Instant;
using core::Result;
namespace fs = std::filesystem;

constexpr std::size_t kLargestFile = 64u << 10;  // bytes
constexpr std::chrono::hours kRenewBefore{24 * 30};
constexpr const char* kLoopback = "127.0.0.1";

// Where a credential lies.
struct Files final {
  std::string certificate;
  std::string key;
};
Files files_of(const std::string& folder, const char* name) {
  return {(fs::path{folder} / (std::string{name} + ".pem")).string(),
          (fs::path{folder} / (std::string{name} + "-key.pem")).string()};
}

Failure unusable(const std::string& path, const std::string& why) {
  return {FailureCode::CertificatesUnusable, {{"path", path}, {"why", why}}, {}};
}

bool is_there(const std::string& path) {
  std::error_code error;
  return fs::symlink_status(path, error).type() != fs::file_type::not_found;
}

Result<Credential> read(const Files& files) {
  const auto certificate = read_whole_file(files.certificate, kLargestFile);
  if (!certificate) return unusable(files.certificate, certificate.failure().details.back().second);
  const auto key = read_whole_file(files.key, kLargestFile);
  if (!key) return unusable(files.key, key.failure().details.back().second);
  auto both = read_credential(*certificate, *key);
  if (!both) return unusable(files.certificate, both.failure().details.back().second);
  return both;
}

// The key first: a certificate without its key would count as there and unusable.
Result<void> write(const Files& files, const Credential& credential) {
  if (const auto ok = write_atomically(files.key, key_pem(credential), kOwnerOnly); !ok) return ok;
  return write_atomically(files.certificate, certificate_pem(credential), kOwnerWrites);
}

Result<Credential> authority_of(const std::string& folder, const std::string& name, Instant now) {
  const Files files = files_of(folder, "authority");
  if (is_there(files.certificate) || is_there(files.key)) {
    auto there = read(files);
    if (there && end_of(*there) <= now) return unusable(files.certificate, "expired");
    return there;
  }
  auto made = make_authority(name, now);
  if (!made) return made;
  if (const auto ok = write(files, *made); !ok) return ok.failure();
  return made;
}

Result<Credential> station_of(const std::string& folder, const Credential& authority, Instant now,
                              const StationPlace& place) {
  const Files files = files_of(folder, "station");
  if (is_there(files.certificate)) {
    auto there = read(files);
    if (!there) return there;
    const bool good = begin_of(*there) <= now && end_of(*there) > now + kRenewBefore && names_exactly(*there, place) &&
                      is_signed_by(*there, authority);
    if (good) return there;
  }
  auto made = make_station(authority, place, now);
  if (!made) return made;
  if (const auto ok = write(files, *made); !ok) return ok.failure();
  return made;
}

std::string host_name() {
  std::array<char, 256> name{};
  if (::gethostname(name.data(), name.size() - 1) != 0) return {};
  const std::string text = name.data();
  const bool plain = !text.empty() && text.size() <= 63 &&
                     text.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-.") ==
                         std::string::npos;
  return plain ? text : std::string{};
}

void add_once(std::vector<std::string>& list, const std::string& text) {
  if (std::find(list.begin(), list.end(), text) == list.end()) list.push_back(text);
}

}  // namespace

StationPlace this_machine() {
  StationPlace place;
  if (const std::string host = host_name(); !host.empty()) {
    add_once(place.names, host);
    if (host.find('.') == std::string::npos) add_once(place.names, host + ".local");
  }
  add_once(place.names, "localhost");
  ifaddrs* all = nullptr;
  if (::getifaddrs(&all) != 0) all = nullptr;
  for (const ifaddrs* each = all; each; each = each->ifa_next) {
    if (!each->ifa_addr || each->ifa_addr->sa_family != AF_INET || (each->ifa_flags & IFF_LOOPBACK)) continue;
    std::array<char, INET_ADDRSTRLEN> text{};
    const auto* address = reinterpret_cast<const sockaddr_in*>(each->ifa_addr);
    if (::inet_ntop(AF_INET, &address->sin_addr, text.data(), text.size())) add_once(place.addresses, text.data());
  }
  if (all) ::freeifaddrs(all);
  std::sort(place.addresses.begin(), place.addresses.end());
  place.addresses.emplace_back(kLoopback);
  return place;
}

Result<port::StationCertificates> open_certificates(const std::string& office_folder,
                                                    const std::string& office_name, Instant now,
                                                    const StationPlace& place) {
  const auto authority = authority_of(office_folder, office_name, now);
  if (!authority) return authority.failure();
  const auto station = station_of(office_folder, *authority, now, place);
  if (!station) return station.failure();
  const std::string by = certificate_pem(*authority);
  return port::StationCertificates{certificate_pem(*station) + by, key_pem(*station), by,
                                   fingerprint_of(*authority), place.addresses};
}

}  // namespace loadlight::system
