// Port: the certificates under which the station speaks with the office's other devices. Implemented by system.
#pragma once

#include <string>
#include <vector>

namespace loadlight::port {

struct StationCertificates final {
  std::string chain;                   // PEM: the station's certificate, then its authority's
  std::string key;                     // PEM: the station's private key
  std::string authority;               // PEM: what devices install
  std::string fingerprint;             // of the authority, SHA-256: 64 hex digits, capitals
  std::vector<std::string> addresses;  // that the station's certificate names: IPv4 addresses, loopback last
};

}  // namespace loadlight::port
