#include "printing/connection.h"

#include <sys/socket.h>

#include <array>

namespace loadlight::printing {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;
using port::PrinterAddress;
using Clock = std::chrono::steady_clock;

constexpr int kConnectMilliseconds = 5000;
constexpr double kSilenceSeconds = 10;

struct CloseConnection final {
  void operator()(http_t* connection) const { httpClose(connection); }
};
using Connection = std::unique_ptr<http_t, CloseConnection>;

struct FreeAddresses final {
  void operator()(http_addrlist_t* list) const { httpAddrFreeList(list); }
};

// Nobody is there to be asked for a password.
const char* no_password(const char*, http_t*, const char*, const char*, void*) {
  return nullptr;
}

int give_up(http_t*, void*) {
  return 0;
}

// No connection came about; the library does not say why.
std::string why_not(const PrinterPlace& place, http_addrlist_t* addresses, Clock::duration taken) {
  int socket = -1;
  if (place.encrypted && httpAddrConnect2(addresses, &socket, kConnectMilliseconds, nullptr)) {
    httpAddrClose(nullptr, socket);
    return "no-encryption";
  }
  return taken < std::chrono::milliseconds{kConnectMilliseconds} ? "connection-refused" : "no-answer";
}

Result<Connection> connect(const PrinterAddress& printer, const PrinterPlace& place) {
  cupsSetPasswordCB2(no_password, nullptr);  // of this thread
  const std::string service = std::to_string(place.port);
  const std::unique_ptr<http_addrlist_t, FreeAddresses> addresses{
      httpAddrGetList(place.host.c_str(), AF_UNSPEC, service.c_str())};
  if (!addresses) return unavailable(printer, "no-such-host");
  const auto begun = Clock::now();
  Connection connection{httpConnect2(place.host.c_str(), place.port, addresses.get(), AF_UNSPEC,
                                     place.encrypted ? HTTP_ENCRYPTION_ALWAYS : HTTP_ENCRYPTION_IF_REQUESTED, 1,
                                     kConnectMilliseconds, nullptr)};
  if (!connection) return unavailable(printer, why_not(place, addresses.get(), Clock::now() - begun));
  httpSetTimeout(connection.get(), kSilenceSeconds, give_up, nullptr);
  return connection;
}

// Why HTTP itself did not carry the request.
Failure http_failure(const PrinterAddress& printer, http_status_t status) {
  switch (status) {
    case HTTP_STATUS_UNAUTHORIZED:
    case HTTP_STATUS_FORBIDDEN:
    case HTTP_STATUS_CUPS_AUTHORIZATION_CANCELED:
      return refused(printer, "needs-sign-in");
    case HTTP_STATUS_NOT_FOUND:
    case HTTP_STATUS_BAD_REQUEST:
    case HTTP_STATUS_METHOD_NOT_ALLOWED:
      return refused(printer, "not-a-printer");
    default:
      return unavailable(printer, "no-answer");
  }
}

Result<Message> exchange(const PrinterAddress& printer, http_t* connection, const PrinterPlace& place,
                         ipp_t* request, std::string_view document) {
  const std::size_t length = ippLength(request) + document.size();
  http_status_t status = cupsSendRequest(connection, request, place.resource.c_str(), length);
  if (status == HTTP_STATUS_CONTINUE && !document.empty()) {
    status = cupsWriteRequestData(connection, document.data(), document.size());
  }
  if (status != HTTP_STATUS_CONTINUE && status != HTTP_STATUS_OK) return http_failure(printer, status);
  Message answer{cupsGetResponse(connection, place.resource.c_str())};
  if (!answer) return http_failure(printer, httpGetStatus(connection));
  return answer;
}

// Why the printer itself did not do what it was asked.
std::string why_refused(ipp_status_t status) {
  switch (status) {
    case IPP_STATUS_ERROR_FORBIDDEN:
    case IPP_STATUS_ERROR_NOT_AUTHENTICATED:
    case IPP_STATUS_ERROR_NOT_AUTHORIZED:
      return "needs-sign-in";
    case IPP_STATUS_ERROR_NOT_FOUND:
      return "not-a-printer";
    case IPP_STATUS_ERROR_DOCUMENT_FORMAT_NOT_SUPPORTED:
      return "takes-no-pdf";
    case IPP_STATUS_ERROR_NOT_ACCEPTING_JOBS:
      return "takes-no-jobs";
    case IPP_STATUS_ERROR_BUSY:
      return "busy";
    default:
      return ippErrorString(status);
  }
}

}  // namespace

Failure unavailable(const PrinterAddress& printer, std::string why) {
  return {FailureCode::PrinterUnavailable, {{"printer", printer.name}, {"why", std::move(why)}}, {}};
}

Failure refused(const PrinterAddress& printer, std::string why) {
  return {FailureCode::PrinterRefused, {{"printer", printer.name}, {"why", std::move(why)}}, {}};
}

Result<PrinterPlace> place_of(const PrinterAddress& printer) {
  std::array<char, 32> scheme{};
  std::array<char, 256> user{};
  std::array<char, 256> host{};
  std::array<char, 1024> resource{};
  PrinterPlace place;
  const auto status =
      httpSeparateURI(HTTP_URI_CODING_ALL, printer.uri.c_str(), scheme.data(), static_cast<int>(scheme.size()),
                      user.data(), static_cast<int>(user.size()), host.data(), static_cast<int>(host.size()),
                      &place.port, resource.data(), static_cast<int>(resource.size()));
  const std::string_view named{scheme.data()};
  if (status != HTTP_URI_STATUS_OK || (named != "ipp" && named != "ipps") || host.front() == '\0') {
    return unavailable(printer, "bad-address");
  }
  place.host = host.data();
  place.resource = resource.data();
  place.encrypted = named == "ipps";
  return place;
}

Watch::Watch(http_t* connection, Clock::time_point deadline)
    : connection_(connection), thread_([this, deadline] { keep(deadline); }) {}

Watch::~Watch() {
  {
    const std::lock_guard lock{mutex_};
    done_ = true;
  }
  over_.notify_all();
  thread_.join();
}

void Watch::keep(Clock::time_point deadline) {
  std::unique_lock lock{mutex_};
  over_.wait_until(lock, deadline, [this] { return done_; });
  while (!done_) {
    ::shutdown(httpGetFd(connection_), SHUT_RDWR);
    over_.wait_for(lock, std::chrono::milliseconds{200}, [this] { return done_; });
  }
}

Result<Message> ask(const PrinterAddress& printer, Message request, std::string_view document) {
  const auto deadline = Clock::now() + std::chrono::seconds{port::kPrinterPatienceSeconds};
  const auto place = place_of(printer);
  if (!place) return place.failure();
  const auto connection = connect(printer, *place);
  if (!connection) return connection.failure();
  const Watch watch{connection->get(), deadline};
  auto answer = exchange(printer, connection->get(), *place, request.get(), document);
  if (!answer) return answer;
  const ipp_status_t status = ippGetStatusCode(answer->get());
  if (status >= IPP_STATUS_REDIRECTION_OTHER_SITE) return refused(printer, why_refused(status));
  return answer;
}

}  // namespace loadlight::printing
