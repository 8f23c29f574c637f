#include "loadlight/system/line_source.h"

#include <fcntl.h>
#include <poll.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <csignal>

#include "descriptor.h"
#include "line_assembler.h"

namespace loadlight::system {
namespace {

using Deadline = port::LineSource::Deadline;

std::atomic<int> wake_descriptor{-1};

extern "C" void wake_on_signal(int) {
  const int held = errno;
  const char byte = 0;
  [[maybe_unused]] const auto put = ::write(wake_descriptor.load(), &byte, 1);
  errno = held;
}

// While it lives, SIGINT and SIGTERM make its descriptor readable and do nothing else.
class SignalWatch final {
 public:
  SignalWatch() {
    if (::pipe2(ends_.data(), O_CLOEXEC | O_NONBLOCK) != 0) return;
    wake_descriptor = ends_[1];
    struct sigaction action {};
    action.sa_handler = wake_on_signal;
    ::sigaction(SIGINT, &action, &former_interrupt_);
    ::sigaction(SIGTERM, &action, &former_terminate_);
  }
  ~SignalWatch() {
    if (ends_[0] < 0) return;
    ::sigaction(SIGINT, &former_interrupt_, nullptr);
    ::sigaction(SIGTERM, &former_terminate_, nullptr);
    wake_descriptor = -1;
    ::close(ends_[0]);
    ::close(ends_[1]);
  }
  SignalWatch(const SignalWatch&) = delete;
  SignalWatch& operator=(const SignalWatch&) = delete;

  int descriptor() const { return ends_[0]; }  // -1 when it could not be made; poll() skips that

 private:
  std::array<int, 2> ends_{-1, -1};
  struct sigaction former_interrupt_ {};
  struct sigaction former_terminate_ {};
};

// What poll() takes: milliseconds, rounded up so that it never wakes before its time; -1 is for ever.
int wait_for(std::optional<Deadline> deadline) {
  using std::chrono::milliseconds;
  if (!deadline) return -1;
  const auto left = std::chrono::ceil<milliseconds>(*deadline - std::chrono::steady_clock::now());
  return static_cast<int>(std::clamp<milliseconds::rep>(left.count(), 0, 60'000));
}

bool passed(std::optional<Deadline> deadline) {
  return deadline && std::chrono::steady_clock::now() >= *deadline;
}

class DescriptorLines final : public port::LineSource {
 public:
  explicit DescriptorLines(int descriptor) : descriptor_(descriptor) {}

  core::Result<port::LineRead> next(std::optional<Deadline> deadline) override {
    port::LineRead read;
    while (!known(deadline, read)) {
      const int error = wait(wait_for(deadline)) ? read_some() : 0;
      if (error != 0) return unreadable("-", error);
    }
    return read;
  }

 private:
  // Sets `read` to what can be said without reading on; false when waiting may still bring a line.
  bool known(std::optional<Deadline> deadline, port::LineRead& read) {
    if (interrupted()) {
      read.emplace<port::Interrupted>();
    } else if (auto line = lines_.take()) {
      read = *std::move(line);
    } else if (ended_) {
      read.emplace<port::EndOfLines>();
    } else if (passed(deadline)) {
      read.emplace<port::TimedOut>();
    } else {
      return false;
    }
    return true;
  }

  bool interrupted() const {
    pollfd signal{signals_.descriptor(), POLLIN, 0};
    return ::poll(&signal, 1, 0) > 0;
  }

  // True when there is something to read, or nothing ever will be.
  bool wait(int milliseconds) const {
    std::array<pollfd, 2> watched{{{descriptor_, POLLIN, 0}, {signals_.descriptor(), POLLIN, 0}}};
    return ::poll(watched.data(), watched.size(), milliseconds) > 0 && watched[0].revents != 0;
  }

  // 0 or an errno value.
  int read_some() {
    std::array<char, 4096> bytes;
    const ssize_t got = ::read(descriptor_, bytes.data(), bytes.size());
    if (got < 0) return errno == EINTR || errno == EAGAIN ? 0 : errno;
    lines_.feed({bytes.data(), static_cast<std::size_t>(got)});
    ended_ = got == 0;
    if (ended_) lines_.finish();
    return 0;
  }

  int descriptor_;
  SignalWatch signals_;
  LineAssembler lines_;
  bool ended_ = false;
};

}  // namespace

std::unique_ptr<port::LineSource> open_line_source(int descriptor) {
  return std::make_unique<DescriptorLines>(descriptor);
}

}  // namespace loadlight::system
