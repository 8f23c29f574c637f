// What comes over a connection to the station: bytes to its listener on this machine's loopback, in pieces, and what it
// makes of them. The first byte picks the size of the pieces.
//
// Promises: a request that reaches an answer has a path, is no larger than was planned for it, and lies where it was
// planned; one that is refused is never answered; whatever was sent, what comes back is HTTP, and the next is served.
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <filesystem>
#include <memory>
#include <stdexcept>

#include "fuzz_input.h"
#include "web/listener.h"

namespace loadlight::fuzz {
namespace {

constexpr std::uint64_t kMostBody = 1000;
constexpr std::uint64_t kMostFile = 3000;
constexpr std::string_view kAnswer = "answered";

// A promise broken in a thread of the station is told by the thread of the harness, which knows the input.
std::atomic<const char*> broken{nullptr};

void note(bool kept, const char* what) {
  if (!kept) broken = what;
}

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
    note(!planned.refusal, "what is refused is not answered");
    note(request.body.size() <= planned.limit, "a body is no larger than was planned");
    note(request.body.empty() || !planned.to_file, "a body lies where it was planned");
    if (request.upload) {
      note(planned.to_file, "a file is one that was planned");
      note(std::filesystem::file_size(request.upload->path()) <= planned.limit, "a file is no larger than was planned");
    }
    if (request.head.path == "/thrown") throw std::length_error{"thrown"};
    return response(200);
  }

  web::Response refuse(const web::RequestHead&, int status) override {
    note(status >= 400 && status < 600, "a refusal has a refusal's number");
    return response(status);
  }

 private:
  static void must_hold(const web::RequestHead& head) {
    note(head.path.find('\0') == std::string::npos, "a path has no NUL");
    note(head.local && head.peer == "127.0.0.1" && !head.secure, "who asks is told by the connection alone");
    for (const auto* value : {&head.cookie, &head.origin, &head.host, &head.token, &head.accept, &head.content_type}) {
      note(value->find_first_of(std::string_view{"\r\n\0", 3}) == std::string::npos, "a header is one line");
    }
  }

  static web::Response response(int status) {
    web::Response made;
    made.status = status;
    made.body = kAnswer;
    return made;
  }
};

class Connection final {
 public:
  explicit Connection(int port) : socket_(::socket(AF_INET, SOCK_STREAM, 0)) {
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_port = htons(static_cast<std::uint16_t>(port));
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    const int at_once = 1;
    const linger nothing{1, 0};  // closed at once: thousands would else wait for their end
    ::setsockopt(socket_, SOL_SOCKET, SO_LINGER, &nothing, sizeof nothing);
    ::setsockopt(socket_, IPPROTO_TCP, TCP_NODELAY, &at_once, sizeof at_once);
    int done = ::connect(socket_, reinterpret_cast<const sockaddr*>(&address), sizeof address);
    if (done != 0 && errno == EINTR) done = waits_for(POLLOUT, 4000) ? 0 : -1;  // the fuzzer looks at its clock
    promise(done == 0, "the station listens");
  }
  ~Connection() { ::close(socket_); }
  Connection(const Connection&) = delete;
  Connection& operator=(const Connection&) = delete;

  void send(std::string_view bytes, std::size_t step) {
    in_pieces(bytes, step, [&](std::string_view piece) {
      (void)::send(socket_, piece.data(), piece.size(), MSG_NOSIGNAL);  // the station may have closed already
    });
  }
  // Adds what comes until an answer is whole, nothing more comes, or nothing comes for so long.
  void receive(std::string& back, int milliseconds) {
    char buffer[4096];
    while (!back.ends_with(kAnswer) && waits_for(POLLIN, milliseconds)) {
      const ssize_t size = ::recv(socket_, buffer, sizeof buffer, 0);
      if (size <= 0) return;
      back.append(buffer, static_cast<std::size_t>(size));
    }
  }

 private:
  bool waits_for(short event, int milliseconds) const {
    pollfd waiting{socket_, event, 0};
    int ready = -1;
    do {
      ready = ::poll(&waiting, 1, milliseconds);
    } while (ready < 0 && errno == EINTR);
    return ready > 0;
  }

  int socket_;
};

// What came back. A request that is not whole is waited for, and then left alone.
std::string sent(int port, std::string_view bytes, std::size_t step) {
  std::string back;
  Connection connection{port};
  connection.send(bytes, step);
  connection.receive(back, 10);
  return back;
}

void must_serve(int port) {
  std::string back;
  Connection connection{port};
  connection.send("GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n", 4096);
  connection.receive(back, 4000);
  promise(back.starts_with("HTTP/1.1 200 ") && back.ends_with(kAnswer), "the next is served");
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
  must_serve(station().port());
  const char* const what = broken;
  promise(what == nullptr, what);
  return 0;
}
