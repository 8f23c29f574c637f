#include "web/listener.h"

#include <arpa/inet.h>
#include <microhttpd.h>
#include <netinet/in.h>
#include <sys/socket.h>

#include <atomic>
#include <cerrno>
#include <cstring>

#include "web/conversation.h"
#include "web/worker_crew.h"

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr unsigned kWaitingThreads = 2;
constexpr unsigned kSilence = 30;               // seconds
constexpr std::size_t kHeaderMemory = 32 << 10;  // bytes for a connection's request line and headers
constexpr unsigned kMostOfOneAddress = 40;
constexpr char kTlsRules[] = "SECURE128:%SERVER_PRECEDENCE:-VERS-ALL:+VERS-TLS1.3:+VERS-TLS1.2";

void be_silent(void*, const char*, va_list) {}

class MicroListener final : public Listener {
 public:
  MicroListener(const ListenerOptions& options, Answerer& answerer)
      : answerer_(answerer), crew_(options.answering_threads, options.most_waiting), secure_(options.tls) {}

  ~MicroListener() override {
    if (!daemon_) return;
    const MHD_socket listening = MHD_quiesce_daemon(daemon_);
    conversations_.end_all();
    crew_.finish();
    conversations_.end_all();  // those that were being answered
    MHD_stop_daemon(daemon_);
    if (listening != MHD_INVALID_SOCKET) ::close(listening);
  }

  Result<void> open(const ListenerOptions& options);
  int port() const override { return port_; }

 private:
  static MHD_Result take(void* self, MHD_Connection* connection, const char* url, const char* method,
                         const char*, const char* data, std::size_t* size, void** state) {
    auto* me = static_cast<MicroListener*>(self);
    return me->take(connection, {url, method}, {data, *size}, size, state);
  }
  static void finished(void* self, MHD_Connection*, void** state, MHD_RequestTerminationCode) {
    auto* me = static_cast<MicroListener*>(self);
    if (*state) me->conversations_.forget(static_cast<Conversation*>(*state));
    *state = nullptr;
  }
  MHD_Result take(MHD_Connection* connection, std::pair<const char*, const char*> line, std::string_view data,
                  std::size_t* size, void** state);

  Answerer& answerer_;
  Conversations conversations_;
  WorkerCrew crew_;
  bool secure_;
  MHD_Daemon* daemon_ = nullptr;
  int port_ = 0;
};

MHD_Result MicroListener::take(MHD_Connection* connection, std::pair<const char*, const char*> line,
                               std::string_view data, std::size_t* size, void** state) {
  if (!*state) {
    *state = conversations_.begin(connection, line.first, line.second, secure_, answerer_);
    return *state ? MHD_YES : MHD_NO;
  }
  auto& conversation = *static_cast<Conversation*>(*state);
  if (!data.empty()) {
    *size = 0;
    return conversation.take(data) ? MHD_YES : MHD_NO;
  }
  return conversation.go_on(crew_);
}

// An error page of the library's own never names what went wrong inside.
Result<void> MicroListener::open(const ListenerOptions& options) {
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_port = htons(static_cast<std::uint16_t>(options.port));
  address.sin_addr.s_addr = htonl(options.every_address ? INADDR_ANY : INADDR_LOOPBACK);
  unsigned flags = MHD_USE_EPOLL_INTERNAL_THREAD | MHD_ALLOW_SUSPEND_RESUME | MHD_USE_ERROR_LOG;
  if (options.tls) flags |= MHD_USE_TLS;
  std::vector<MHD_OptionItem> items{
      {MHD_OPTION_EXTERNAL_LOGGER, reinterpret_cast<std::intptr_t>(be_silent), nullptr},
      {MHD_OPTION_SOCK_ADDR, 0, &address},
      {MHD_OPTION_THREAD_POOL_SIZE, kWaitingThreads, nullptr},
      {MHD_OPTION_CONNECTION_LIMIT, options.most_connections, nullptr},
      {MHD_OPTION_CONNECTION_TIMEOUT, kSilence, nullptr},
      {MHD_OPTION_CONNECTION_MEMORY_LIMIT, kHeaderMemory, nullptr},
      {MHD_OPTION_NOTIFY_COMPLETED, reinterpret_cast<std::intptr_t>(&MicroListener::finished), this}};
  if (options.every_address) items.push_back({MHD_OPTION_PER_IP_CONNECTION_LIMIT, kMostOfOneAddress, nullptr});
  if (options.tls) {
    const auto text = [](const std::string& pem) { return const_cast<char*>(pem.c_str()); };
    items.push_back({MHD_OPTION_HTTPS_MEM_CERT, 0, text(options.tls->certificate)});
    items.push_back({MHD_OPTION_HTTPS_MEM_KEY, 0, text(options.tls->key)});
    items.push_back({MHD_OPTION_HTTPS_PRIORITIES, 0, const_cast<char*>(kTlsRules)});
  }
  items.push_back({MHD_OPTION_END, 0, nullptr});
  daemon_ = MHD_start_daemon(flags, static_cast<std::uint16_t>(options.port), nullptr, nullptr,
                             &MicroListener::take, this, MHD_OPTION_ARRAY, items.data(), MHD_OPTION_END);
  if (!daemon_) {
    return Failure{FailureCode::StationUnavailable,
                   {{"port", std::to_string(options.port)}, {"why", std::strerror(errno)}},
                   {}};
  }
  const MHD_DaemonInfo* info = MHD_get_daemon_info(daemon_, MHD_DAEMON_INFO_BIND_PORT);
  port_ = info ? info->port : options.port;
  return {};
}

}  // namespace

Result<std::unique_ptr<Listener>> listen(const ListenerOptions& options, Answerer& answerer) {
  auto listener = std::make_unique<MicroListener>(options, answerer);
  if (const auto opened = listener->open(options); !opened) return opened.failure();
  return std::unique_ptr<Listener>{std::move(listener)};
}

}  // namespace loadlight::web
