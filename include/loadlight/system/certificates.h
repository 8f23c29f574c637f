// The office's own certificate authority and the station's certificate under it, kept in the office's folder:
// authority.pem and station.pem, and their private keys, which their owner alone may read (0600).
//
// The authority is made once, for ten years; the station's certificate for one, with this machine's names and
// IPv4 addresses in it.
#pragma once

#include <string>
#include <vector>

#include "loadlight/core/dates.h"
#include "loadlight/core/result.h"
#include "loadlight/port/certificates.h"

namespace loadlight::system {

struct StationPlace final {
  std::vector<std::string> names;      // "localhost" and others
  std::vector<std::string> addresses;  // IPv4, as text; loopback last
};
StationPlace this_machine();

// What is there, or made where nothing is. The station's certificate is made anew when it ends within 30 days or
// names other places than `place`. CertificatesUnusable (details: path, why) for files that are there and cannot be
// used, and for an authority whose time is over; they are left as they are.
core::Result<port::StationCertificates> open_certificates(const std::string& office_folder,
                                                          const std::string& office_name, core::Instant now,
                                                          const StationPlace& place);

}  // namespace loadlight::system
