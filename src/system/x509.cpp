#include "x509.h"

#include <arpa/inet.h>
#include <sodium.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdint>
#include <cstring>
#include <ctime>
#include <set>

#include "loadlight/core/clock_doubt.h"

namespace loadlight::system {
namespace {

using core::Failure;
using core::FailureCode;
using core::Instant;
using core::Result;

constexpr std::chrono::hours kDay{24};
constexpr auto kAuthorityLife = kDay * 3652;
constexpr auto kStationLife = kDay * 365;
constexpr std::size_t kLongestName = 64;  // bytes (X.520: ub-common-name)
constexpr std::size_t kSerialBytes = 16;

Failure unusable(const char* why) {
  return {FailureCode::CertificatesUnusable, {{"why", why}}, {}};
}

std::time_t seconds_of(Instant t) {
  return static_cast<std::time_t>(core::to_milliseconds(t) / 1000);
}

std::string cut_name(std::string name) {
  if (name.empty()) name = "Loadlight";
  if (name.size() <= kLongestName) return name;
  std::size_t end = kLongestName;
  while (end > 0 && (static_cast<unsigned char>(name[end]) & 0xC0) == 0x80) --end;
  name.resize(end);
  return name;
}

gnutls_datum_t datum_of(const std::string& text) {
  return {reinterpret_cast<unsigned char*>(const_cast<char*>(text.data())), static_cast<unsigned>(text.size())};
}

Credential empty_credential() {
  gnutls_x509_crt_t certificate = nullptr;
  gnutls_x509_privkey_t key = nullptr;
  gnutls_x509_crt_init(&certificate);
  gnutls_x509_privkey_init(&key);
  Credential made;
  made.certificate.reset(certificate);
  made.key.reset(key);
  return made;
}

std::string key_id_of(gnutls_x509_crt_t certificate) {
  std::array<unsigned char, 64> id{};
  std::size_t size = id.size();
  if (gnutls_x509_crt_get_key_id(certificate, 0, id.data(), &size) != GNUTLS_E_SUCCESS) return {};
  return {reinterpret_cast<char*>(id.data()), size};
}

std::string key_id_of(gnutls_x509_privkey_t key) {
  std::array<unsigned char, 64> id{};
  std::size_t size = id.size();
  if (gnutls_x509_privkey_get_key_id(key, 0, id.data(), &size) != GNUTLS_E_SUCCESS) return {};
  return {reinterpret_cast<char*>(id.data()), size};
}

// Counts what GnuTLS refused, so that a certificate is made of many steps and judged once.
class Steps final {
 public:
  void operator()(int status) { failed_ = failed_ || status < 0; }
  bool failed() const { return failed_; }

 private:
  bool failed_ = false;
};

// Key, serial number, name and times: what both kinds have.
Credential begin_certificate(Steps& step, const std::string& name, Instant now, std::chrono::hours life) {
  Credential made = empty_credential();
  const unsigned bits = GNUTLS_CURVE_TO_BITS(GNUTLS_ECC_CURVE_SECP256R1);
  step(gnutls_x509_privkey_generate(made.key.get(), GNUTLS_PK_ECDSA, bits, 0));
  std::array<std::uint8_t, kSerialBytes> serial{};
  randombytes_buf(serial.data(), serial.size());
  serial[0] = static_cast<std::uint8_t>((serial[0] & 0x7F) | 0x40);  // positive, and never shorter
  gnutls_x509_crt_t certificate = made.certificate.get();
  step(gnutls_x509_crt_set_version(certificate, 3));
  step(gnutls_x509_crt_set_serial(certificate, serial.data(), serial.size()));
  step(gnutls_x509_crt_set_dn_by_oid(certificate, GNUTLS_OID_X520_COMMON_NAME, 0, name.data(),
                                     static_cast<unsigned>(name.size())));
  step(gnutls_x509_crt_set_activation_time(certificate, seconds_of(now - kDay)));  // clocks of tablets differ
  step(gnutls_x509_crt_set_expiration_time(certificate, seconds_of(now + life)));
  step(gnutls_x509_crt_set_key(certificate, made.key.get()));
  const std::string id = key_id_of(certificate);
  step(gnutls_x509_crt_set_subject_key_id(certificate, id.data(), id.size()));
  return made;
}

void add_places(Steps& step, gnutls_x509_crt_t certificate, const StationPlace& place) {
  for (const std::string& name : place.names) {
    step(gnutls_x509_crt_set_subject_alt_name(certificate, GNUTLS_SAN_DNSNAME, name.data(),
                                              static_cast<unsigned>(name.size()), GNUTLS_FSAN_APPEND));
  }
  for (const std::string& address : place.addresses) {
    in_addr bytes{};
    if (::inet_pton(AF_INET, address.c_str(), &bytes) != 1) continue;
    step(gnutls_x509_crt_set_subject_alt_name(certificate, GNUTLS_SAN_IPADDRESS, &bytes, sizeof bytes,
                                              GNUTLS_FSAN_APPEND));
  }
}

std::string pem_of(gnutls_datum_t out, int status) {
  if (status < 0) return {};
  std::string text{reinterpret_cast<char*>(out.data), out.size};
  gnutls_free(out.data);
  return text;
}

}  // namespace

Result<Credential> read_credential(const std::string& certificate, const std::string& key) {
  Credential read = empty_credential();
  const gnutls_datum_t certificate_text = datum_of(certificate);
  const gnutls_datum_t key_text = datum_of(key);
  if (gnutls_x509_crt_import(read.certificate.get(), &certificate_text, GNUTLS_X509_FMT_PEM) < 0 ||
      gnutls_x509_privkey_import(read.key.get(), &key_text, GNUTLS_X509_FMT_PEM) < 0) {
    return unusable("malformed");
  }
  const std::string id = key_id_of(read.certificate.get());
  if (id.empty() || id != key_id_of(read.key.get())) return unusable("keys-differ");
  return read;
}

Result<Credential> make_authority(const std::string& name, Instant now) {
  if (sodium_init() < 0) return Failure{FailureCode::Internal, {}, {}};
  Steps step;
  Credential made = begin_certificate(step, cut_name(name), now, kAuthorityLife);
  gnutls_x509_crt_t certificate = made.certificate.get();
  // Tablets keep it for years: it must not wait for the day of a clock that stood ahead when it was made.
  step(gnutls_x509_crt_set_activation_time(certificate, seconds_of(std::min(now, core::kProgramMade) - kDay)));
  step(gnutls_x509_crt_set_basic_constraints(certificate, 1, 0));
  step(gnutls_x509_crt_set_key_usage(certificate, GNUTLS_KEY_KEY_CERT_SIGN | GNUTLS_KEY_CRL_SIGN));
  step(gnutls_x509_crt_sign2(certificate, certificate, made.key.get(), GNUTLS_DIG_SHA256, 0));
  if (step.failed()) return Failure{FailureCode::Internal, {{"why", "certificate"}}, {}};
  return made;
}

Result<Credential> make_station(const Credential& authority, const StationPlace& place, Instant now) {
  if (sodium_init() < 0) return Failure{FailureCode::Internal, {}, {}};
  Steps step;
  Credential made = begin_certificate(step, "Loadlight station", now, kStationLife);
  gnutls_x509_crt_t certificate = made.certificate.get();
  add_places(step, certificate, place);
  step(gnutls_x509_crt_set_basic_constraints(certificate, 0, -1));
  step(gnutls_x509_crt_set_key_usage(certificate, GNUTLS_KEY_DIGITAL_SIGNATURE));
  step(gnutls_x509_crt_set_key_purpose_oid(certificate, GNUTLS_KP_TLS_WWW_SERVER, 0));
  const std::string issuer = key_id_of(authority.certificate.get());
  step(gnutls_x509_crt_set_authority_key_id(certificate, issuer.data(), issuer.size()));
  step(gnutls_x509_crt_sign2(certificate, authority.certificate.get(), authority.key.get(), GNUTLS_DIG_SHA256, 0));
  if (step.failed()) return Failure{FailureCode::Internal, {{"why", "certificate"}}, {}};
  return made;
}

std::string certificate_pem(const Credential& credential) {
  gnutls_datum_t out{};
  const int status = gnutls_x509_crt_export2(credential.certificate.get(), GNUTLS_X509_FMT_PEM, &out);
  return pem_of(out, status);
}

std::string key_pem(const Credential& credential) {
  gnutls_datum_t out{};
  const int status = gnutls_x509_privkey_export2_pkcs8(credential.key.get(), GNUTLS_X509_FMT_PEM, nullptr,
                                                       GNUTLS_PKCS_PLAIN, &out);
  return pem_of(out, status);
}

Instant begin_of(const Credential& credential) {
  const std::time_t begin = gnutls_x509_crt_get_activation_time(credential.certificate.get());
  return core::instant_from(static_cast<std::int64_t>(begin) * 1000);
}

Instant end_of(const Credential& credential) {
  const std::time_t end = gnutls_x509_crt_get_expiration_time(credential.certificate.get());
  return core::instant_from(static_cast<std::int64_t>(end) * 1000);
}

std::string fingerprint_of(const Credential& credential) {
  std::array<unsigned char, 32> digest{};
  std::size_t size = digest.size();
  if (gnutls_x509_crt_get_fingerprint(credential.certificate.get(), GNUTLS_DIG_SHA256, digest.data(), &size) < 0) {
    return {};
  }
  std::string text;
  for (const unsigned char byte : digest) {
    text.push_back("0123456789ABCDEF"[byte >> 4]);
    text.push_back("0123456789ABCDEF"[byte & 15]);
  }
  return text;
}

bool is_signed_by(const Credential& credential, const Credential& authority) {
  gnutls_x509_crt_t by = authority.certificate.get();
  unsigned verdict = 0;
  const int status = gnutls_x509_crt_verify(credential.certificate.get(), &by, 1,
                                            GNUTLS_VERIFY_DISABLE_TIME_CHECKS, &verdict);
  return status == GNUTLS_E_SUCCESS && verdict == 0;
}

bool names_exactly(const Credential& credential, const StationPlace& place) {
  std::set<std::string> wanted{place.names.begin(), place.names.end()};
  wanted.insert(place.addresses.begin(), place.addresses.end());
  std::set<std::string> named;
  for (unsigned i = 0;; ++i) {
    std::array<char, 256> text{};
    std::size_t size = text.size();
    const int type = gnutls_x509_crt_get_subject_alt_name(credential.certificate.get(), i, text.data(), &size,
                                                          nullptr);
    if (type < 0) break;
    if (type == GNUTLS_SAN_IPADDRESS && size == sizeof(in_addr)) {
      std::array<char, INET_ADDRSTRLEN> shown{};
      ::inet_ntop(AF_INET, text.data(), shown.data(), shown.size());
      named.insert(shown.data());
    } else {
      named.emplace(text.data(), ::strnlen(text.data(), size));
    }
  }
  return named == wanted;
}

}  // namespace loadlight::system
