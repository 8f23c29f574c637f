// Listens for browsers and speaks HTTP with them, through libmicrohttpd, which is seen nowhere else. A few
// threads wait for all connections; whole requests are answered by threads of their own, so that a slow answer
// keeps nobody waiting but who asked.
#pragma once

#include <cstddef>
#include <memory>
#include <string>

#include "loadlight/core/result.h"
#include "web/http_message.h"

namespace loadlight::web {

struct TlsFiles final {
  std::string certificate;  // PEM: the station's own, then its authority's
  std::string key;          // PEM
};

struct ListenerOptions final {
  int port = 0;                  // 0: any that is free
  bool every_address = false;    // else this machine's loopback alone
  std::optional<TlsFiles> tls;   // TLS 1.2 or newer
  unsigned answering_threads = 4;
  unsigned most_connections = 600;
  std::size_t most_waiting = 128;  // whole requests; more are refused with 503
};

// The limits that hold before a request reaches the answerer: 32 KB of request line and headers, 40 connections
// from one address (of others than this machine), 30 seconds of silence.
class Listener {
 public:
  virtual ~Listener() = default;  // ends every connection and waits for what is being answered
  virtual int port() const = 0;
};

// StationUnavailable (details: port, why), CertificatesUnusable. `answerer` must live longer.
core::Result<std::unique_ptr<Listener>> listen(const ListenerOptions& options, Answerer& answerer);

}  // namespace loadlight::web
