// X.509 certificates and their keys, through GnuTLS.
#pragma once

#include <gnutls/x509.h>

#include <memory>
#include <string>
#include <vector>

#include "loadlight/core/dates.h"
#include "loadlight/core/result.h"
#include "loadlight/system/certificates.h"

namespace loadlight::system {

struct CertificateCloser final {
  void operator()(gnutls_x509_crt_int* certificate) const { gnutls_x509_crt_deinit(certificate); }
};
struct KeyCloser final {
  void operator()(gnutls_x509_privkey_int* key) const { gnutls_x509_privkey_deinit(key); }
};

// A certificate and the private key that belongs to it.
struct Credential final {
  std::unique_ptr<gnutls_x509_crt_int, CertificateCloser> certificate;
  std::unique_ptr<gnutls_x509_privkey_int, KeyCloser> key;
};

// From PEM: a failure's "why" is "malformed", or "keys-differ" when one is not the other's.
core::Result<Credential> read_credential(const std::string& certificate_pem, const std::string& key_pem);

// EC P-256, ten years. `name` is cut to what a certificate's name may hold.
core::Result<Credential> make_authority(const std::string& name, core::Instant now);
// Signed by `authority`, a year.
core::Result<Credential> make_station(const Credential& authority, const StationPlace& place, core::Instant now);

std::string certificate_pem(const Credential& credential);
std::string key_pem(const Credential& credential);
core::Instant begin_of(const Credential& credential);
core::Instant end_of(const Credential& credential);
// SHA-256, 64 hex digits, capitals.
std::string fingerprint_of(const Credential& credential);
bool is_signed_by(const Credential& credential, const Credential& authority);
// True iff the certificate names these places and no others, in any order.
bool names_exactly(const Credential& credential, const StationPlace& place);

}  // namespace loadlight::system
