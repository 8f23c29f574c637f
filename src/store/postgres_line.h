// The line to a PostgreSQL server, and how long its silence is borne.
#pragma once

#include <chrono>
#include <memory>
#include <optional>
#include <string>

struct pg_conn;
struct pg_result;

namespace loadlight::store {

struct LineCloser final {
  void operator()(pg_conn* connection) const;
};
using Line = std::unique_ptr<pg_conn, LineCloser>;

struct AnswerClearer final {
  void operator()(pg_result* result) const;
};
using Answer = std::unique_ptr<pg_result, AnswerClearer>;

// Of several hosts in the address the first that takes changes. Where the address says nothing of it, each host is
// given three seconds, and a broken line is noticed within some ten. Never null; its status tells whether it stands.
Line open_line(const std::string& address);

// The answer to what was sent: its last, when it was several statements. Nothing when the line is dead: after some silence
// the server is asked through another line whether it lives, and if it does a long statement goes on; not longer
// than `at_most`, when that is given. A dead line stays one.
Answer wait_for_answer(const std::string& address, pg_conn* line, std::optional<std::chrono::milliseconds> at_most);

}  // namespace loadlight::store
