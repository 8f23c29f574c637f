#include "loadlight/system/line_source.h"

#include <fcntl.h>
#include <unistd.h>

#include <array>
#include <catch2/catch.hpp>
#include <csignal>
#include <thread>

using namespace loadlight;
using namespace std::chrono_literals;
using std::chrono::steady_clock;

namespace {

class Pipe final {
 public:
  Pipe() { REQUIRE(::pipe(ends_.data()) == 0); }
  ~Pipe() {
    ::close(ends_[0]);
    close_writer();
  }
  int reader() const { return ends_[0]; }
  void write(std::string_view text) const {
    if (::write(ends_[1], text.data(), text.size()) != static_cast<ssize_t>(text.size())) std::abort();
  }
  void close_writer() {
    if (ends_[1] >= 0) ::close(ends_[1]);
    ends_[1] = -1;
  }

 private:
  std::array<int, 2> ends_{-1, -1};
};

template <class Expected>
void check_next(port::LineSource& lines, std::optional<steady_clock::time_point> deadline = std::nullopt) {
  const auto read = lines.next(deadline);
  REQUIRE(read);
  CHECK(std::holds_alternative<Expected>(*read));
}

std::string next_line(port::LineSource& lines) {
  const auto read = lines.next(steady_clock::now() + 5s);
  REQUIRE(read);
  REQUIRE(std::holds_alternative<port::Line>(*read));
  return std::get<port::Line>(*read).text;
}

}  // namespace

TEST_CASE("Lines come one by one, the last without its ending, then the end, again and again") {
  Pipe pipe;
  pipe.write("first\r\nsecond\rlast");
  pipe.close_writer();
  const auto lines = system::open_line_source(pipe.reader());
  CHECK(next_line(*lines) == "first");
  CHECK(next_line(*lines) == "second");
  CHECK(next_line(*lines) == "last");
  check_next<port::EndOfLines>(*lines);
  check_next<port::EndOfLines>(*lines);
}

TEST_CASE("A line is given as soon as its ending came, without waiting for more") {
  const Pipe pipe;
  const auto lines = system::open_line_source(pipe.reader());
  pipe.write("one\r");
  CHECK(next_line(*lines) == "one");
  pipe.write("\ntwo\n");  // the LF still belongs to the CR
  CHECK(next_line(*lines) == "two");
}

TEST_CASE("A deadline ends the waiting in its time and keeps what came of a line") {
  const Pipe pipe;
  const auto lines = system::open_line_source(pipe.reader());
  pipe.write("begin");
  const auto start = steady_clock::now();
  check_next<port::TimedOut>(*lines, start + 80ms);
  const auto waited = steady_clock::now() - start;
  CHECK(waited >= 80ms);
  CHECK(waited < 2s);
  pipe.write("ning\n");
  CHECK(next_line(*lines) == "beginning");
}

TEST_CASE("After the deadline only lines that were read before are given") {
  const Pipe pipe;
  const auto lines = system::open_line_source(pipe.reader());
  pipe.write("one\ntwo\n");
  CHECK(next_line(*lines) == "one");
  pipe.write("three\n");
  const auto past = steady_clock::now() - 1s;
  const auto read = lines->next(past);
  REQUIRE(read);
  CHECK(std::holds_alternative<port::Line>(*read));
  check_next<port::TimedOut>(*lines, past);
}

TEST_CASE("A wedge's bursts of 87 characters arrive whole, however they are cut") {
  const Pipe pipe;
  const auto lines = system::open_line_source(pipe.reader());
  constexpr int kBursts = 200;
  const auto burst = [](int number) {
    std::string text = "LL1." + std::to_string(number) + ".";
    while (text.size() < 87) text.push_back("0123456789ABCDEFGHJK"[text.size() % 20]);
    return text;
  };
  std::thread wedge{[&] {
    for (int i = 0; i < kBursts; ++i) {
      const std::string sent = burst(i) + (i % 2 == 0 ? "\r" : "\r\n");
      const std::size_t cut = static_cast<std::size_t>(i) % sent.size();
      pipe.write(sent.substr(0, cut));
      if (i % 20 == 0) std::this_thread::sleep_for(1ms);
      pipe.write(sent.substr(cut));
    }
  }};
  for (int i = 0; i < kBursts; ++i) CHECK(next_line(*lines) == burst(i));
  wedge.join();
}

TEST_CASE("An endless line is told once and its rest is dropped") {
  Pipe pipe;
  const auto lines = system::open_line_source(pipe.reader());
  std::thread writer{[&] {
    for (int i = 0; i < 100; ++i) pipe.write(std::string(10'000, 'x'));
    pipe.write("\nnext");
    pipe.close_writer();
  }};
  check_next<port::OverlongLine>(*lines);
  CHECK(next_line(*lines) == "next");
  check_next<port::EndOfLines>(*lines);
  writer.join();
}

TEST_CASE("SIGINT and SIGTERM end the waiting, and their former handlers come back") {
  for (const int signal : {SIGINT, SIGTERM}) {
    const auto former = std::signal(signal, SIG_IGN);
    {
      const Pipe pipe;
      const auto lines = system::open_line_source(pipe.reader());
      std::thread interrupter{[signal] {
        std::this_thread::sleep_for(30ms);
        ::kill(::getpid(), signal);
      }};
      check_next<port::Interrupted>(*lines, steady_clock::now() + 10s);
      check_next<port::Interrupted>(*lines);
      interrupter.join();
    }
    CHECK(std::signal(signal, former) == SIG_IGN);
  }
}

TEST_CASE("A signal between two lines is not lost") {
  const Pipe pipe;
  pipe.write("one\ntwo\n");
  const auto lines = system::open_line_source(pipe.reader());
  CHECK(next_line(*lines) == "one");
  std::raise(SIGTERM);
  check_next<port::Interrupted>(*lines);
}

TEST_CASE("A descriptor that cannot be read is a failure, not an end") {
  const int folder = ::open("/", O_RDONLY | O_DIRECTORY);
  const auto read = system::open_line_source(folder)->next(steady_clock::now() + 1s);
  ::close(folder);
  REQUIRE_FALSE(read);
  CHECK(read.failure().code == core::FailureCode::FileUnreadable);
}
