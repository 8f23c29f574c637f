// What comes over a connection to the station: bytes to its listener on this machine's loopback, in pieces, and what it
// makes of them. The first byte picks the size of the pieces.
//
// Promises: a request that reaches an answer has a path, is no larger than was planned for it, and lies where it was
// planned; one that is refused is never answered; whatever was sent, what comes back is HTTP, and the next is served.
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <sys/socket.h>
#include <sys/time.h>
#include <unistd.h>

#include <filesystem>
#include <memory>

#include "fuzz_input.h"
#include "web/listener.h"

namespace loadlight::fuzz {
namespace {

constexpr std::uint64_t kMostBody = 1000;
constexpr std::uint64_t kMostFile = 3000;

// Takes bodies under /body and /file, refuses /refused before its body, and takes no body elsewhere.
class Answers final : public web::Answerer {
 public:
  web::BodyPlan plan(const web::RequestHead& head) override {
    must_hold(head);
    web::BodyPlan plan;
    plan.to_file = head.path.starts_with("/file");
    plan.limit = plan.to_file ? kMostFile : head.path.starts_with("/body") ? kMostBody : 0;
    if (head.path == "/refused") plan.refusal = response(403);
    return plan;
  }

  web::Response answer(const web::Request& request) override {
    const auto planned = plan(request.head);
    promise(!planned.refusal, "what is refused is not answered");
    promise(request.body.size() <= planned.limit, "a body is no larger than was planned");
    promise(request.body.empty() || !planned.to_file, "a body lies where it was planned");
    if (request.upload) {
      promise(planned.to_file, "a file is one that was planned");
      promise(std::filesystem::file_size(request.upload->path()) <= planned.limit, "a file is no larger than was planned");
    }
    if (request.head.path == "/thrown") throw std::length_error{"thrown"};
    return response(200);
  }

  web::Response refuse(const web::RequestHead&, int status) override {
    promise(status >= 400 && status < 600, "a refusal has a refusal's number");
    return response(status);
  }

 private:
  static void must_hold(const web::RequestHead& head) {
    promise(head.path.find('\0') == std::string::npos, "a path has no NUL");
    promise(head.local && head.peer == "127.0.0.1" && !head.secure, "who asks is told by the connection alone");
    for (const auto* value : {&head.cookie, &head.origin, &head.host, &head.token, &head.accept, &head.content_type}) {
      promise(value->find_first_of(std::string_view{"\r\n\0", 3}) == std::string::npos, "a header is one line");
    }
  }

  static web::Response response(int status) {
    web::Response made;
    made.status = status;
    made.body = "answered";
    return made;
  }
};

int connect_to(int port) {
  const int connection = ::socket(AF_INET, SOCK_STREAM, 0);
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_port = htons(static_cast<std::uint16_t>(port));
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  const timeval patience{4, 0};
  const int at_once = 1;
  ::setsockopt(connection, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
  ::setsockopt(connection, IPPROTO_TCP, TCP_NODELAY, &at_once, sizeof at_once);
  promise(::connect(connection, reinterpret_cast<const sockaddr*>(&address), sizeof address) == 0, "the station listens");
  return connection;
}

// What came back until the station closed.
std::string sent(int port, std::string_view bytes, std::size_t step) {
  const int connection = connect_to(port);
  in_pieces(bytes, step, [&](std::string_view piece) {
    (void)::send(connection, piece.data(), piece.size(), MSG_NOSIGNAL);  // it may have closed already
  });
  ::shutdown(connection, SHUT_WR);
  std::string back;
  char buffer[4096];
  for (ssize_t size = 1; size > 0;) {
    size = ::recv(connection, buffer, sizeof buffer, 0);
    if (size > 0) back.append(buffer, static_cast<std::size_t>(size));
    promise(size >= 0 || errno != EAGAIN, "a connection whose other side is done is closed");
  }
  ::close(connection);
  return back;
}

web::Listener& station() {
  static Answers answers;
  static const auto listener = [] {
    web::ListenerOptions options;
    options.answering_threads = 2;
    return std::move(web::listen(options, answers).value());
  }();
  return *listener;
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight::fuzz;
  Input input{data, size};
  const std::size_t step = 1 + std::size_t{input.byte()} * 16;
  const std::string back = sent(station().port(), input.rest(), step);
  promise(back.empty() || back.starts_with("HTTP/1."), "what comes back is HTTP");
  return 0;
}
