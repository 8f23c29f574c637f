#include "postgres_line.h"

#include <libpq-fe.h>
#include <poll.h>

#include <algorithm>
#include <vector>

namespace loadlight::store {
namespace {

using std::chrono::milliseconds;
using std::chrono::steady_clock;

constexpr milliseconds kSilence{1500};        // before the server is first asked whether it lives
constexpr milliseconds kLongSilence{5000};    // between the next such questions

// Parameters of libpq's, the later above the earlier; those of the address stand in between.
class Parameters final {
 public:
  void add(const char* name, std::string value) {
    names_.push_back(name);
    values_.push_back(std::move(value));
  }
  const char* const* names() {
    names_.push_back(nullptr);
    return names_.data();
  }
  const char* const* values() {
    for (const std::string& value : values_) texts_.push_back(value.c_str());
    texts_.push_back(nullptr);
    return texts_.data();
  }

 private:
  std::vector<const char*> names_;
  std::vector<std::string> values_;
  std::vector<const char*> texts_;
};

// PostgreSQL 15 documentation, 34.1.2: parameter key words.
Parameters with_defaults(const std::string& address) {
  Parameters parameters;
  for (const auto& [name, value] : {std::pair{"target_session_attrs", "read-write"},
                                    {"connect_timeout", "3"},
                                    {"tcp_user_timeout", "6000"},
                                    {"keepalives_idle", "5"},
                                    {"keepalives_interval", "2"},
                                    {"keepalives_count", "3"}}) {
    parameters.add(name, value);
  }
  parameters.add("dbname", address);
  return parameters;
}

std::string text_of(const char* text) {
  return text ? text : "";
}

// The same server that the line leads to, not another of the address.
bool lives(const std::string& address, PGconn* line) {
  Parameters parameters = with_defaults(address);
  parameters.add("host", text_of(PQhost(line)));
  parameters.add("hostaddr", "");
  parameters.add("port", text_of(PQport(line)));
  parameters.add("connect_timeout", "2");
  return PQpingParams(parameters.names(), parameters.values(), 1) != PQPING_NO_RESPONSE;
}

// Until something can be read or written, or so long. A broken line can be read: its end.
bool stirs(PGconn* line, bool to_write, milliseconds wait) {
  pollfd waited{PQsocket(line), static_cast<short>(to_write ? POLLIN | POLLOUT : POLLIN), 0};
  return poll(&waited, 1, static_cast<int>(wait.count())) != 0;
}

class Waiting final {
 public:
  Waiting(const std::string& address, PGconn* line, std::optional<milliseconds> at_most)
      : address_(address), line_(line), at_most_(at_most) {}

  // False when the line is dead.
  bool for_result() {
    for (;;) {
      const int unsent = PQflush(line_);
      if (unsent < 0 || PQsocket(line_) < 0) return true;  // the result tells why
      if (unsent == 0 && PQisBusy(line_) == 0) return true;
      if (stirs(line_, unsent == 1, next_wait())) {
        if (PQconsumeInput(line_) == 0) return true;
      } else if (!goes_on()) {
        return false;
      }
    }
  }

 private:
  milliseconds next_wait() const {
    const milliseconds wait = asked_ ? kLongSilence : kSilence;
    return at_most_ ? std::clamp(left(), milliseconds{1}, wait) : wait;
  }
  milliseconds left() const {
    return std::chrono::duration_cast<milliseconds>(begun_ + *at_most_ - steady_clock::now());
  }
  bool goes_on() {
    if (at_most_ && left() <= milliseconds{0}) return false;
    asked_ = true;
    return lives(address_, line_);
  }

  const std::string& address_;
  PGconn* const line_;
  const std::optional<milliseconds> at_most_;
  const steady_clock::time_point begun_ = steady_clock::now();
  bool asked_ = false;
};

}  // namespace

void LineCloser::operator()(pg_conn* connection) const {
  PQfinish(connection);
}

void AnswerClearer::operator()(pg_result* result) const {
  PQclear(result);
}

Line open_line(const std::string& address) {
  Parameters parameters = with_defaults(address);
  Line line{PQconnectdbParams(parameters.names(), parameters.values(), 1)};
  if (PQstatus(line.get()) == CONNECTION_OK) PQsetnonblocking(line.get(), 1);
  return line;
}

Answer wait_for_answer(const std::string& address, pg_conn* line, std::optional<milliseconds> at_most) {
  Waiting waiting{address, line, at_most};
  Answer last;
  for (;;) {
    if (!waiting.for_result()) return {};
    Answer answer{PQgetResult(line)};
    if (!answer) return last;
    const bool failed = PQresultStatus(answer.get()) == PGRES_FATAL_ERROR;
    last = std::move(answer);
    if (failed && PQstatus(line) != CONNECTION_OK) return last;
  }
}

}  // namespace loadlight::store
