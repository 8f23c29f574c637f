// One connection to a printer, for one request. Private to printing.
#pragma once

#include <cups/cups.h>

#include <chrono>
#include <condition_variable>
#include <memory>
#include <mutex>
#include <string>
#include <thread>

#include "loadlight/port/printer.h"

namespace loadlight::printing {

struct DeleteMessage final {
  void operator()(ipp_t* message) const { ippDelete(message); }
};
using Message = std::unique_ptr<ipp_t, DeleteMessage>;

// What an address is made of.
struct PrinterPlace final {
  std::string host;
  int port = 631;
  std::string resource;
  bool encrypted = false;
};
core::Result<PrinterPlace> place_of(const port::PrinterAddress& printer);

core::Failure unavailable(const port::PrinterAddress& printer, std::string why);
core::Failure refused(const port::PrinterAddress& printer, std::string why);

// Ends all that is still under way once its time is over: a printer that trickles would otherwise hold whoever
// asked it.
class Watch final {
 public:
  Watch(http_t* connection, std::chrono::steady_clock::time_point deadline);
  ~Watch();
  Watch(const Watch&) = delete;
  Watch& operator=(const Watch&) = delete;

 private:
  void keep(std::chrono::steady_clock::time_point deadline);

  http_t* connection_;
  std::mutex mutex_;
  std::condition_variable over_;
  bool done_ = false;
  std::thread thread_;  // last: it uses the others
};

// Sends `request`, with `document` after it, and yields the answer, whose status is a success.
core::Result<Message> ask(const port::PrinterAddress& printer, Message request, std::string_view document = {});

}  // namespace loadlight::printing
