// Sessions with one record, lent to whoever works on it.
#pragma once

#include <chrono>
#include <memory>
#include <mutex>
#include <string>
#include <utility>
#include <vector>

#include "loadlight/core/result.h"
#include "sql_session.h"

namespace loadlight::store {

// Thread-safe. A lent session is one thread's, and goes back by itself.
class SessionPool final : public std::enable_shared_from_this<SessionPool> {
 public:
  struct GiveBack {
    std::shared_ptr<SessionPool> pool;
    void operator()(SqlSession* session) const;
  };
  using Lent = std::unique_ptr<SqlSession, GiveBack>;

  SessionPool(std::string path, std::chrono::milliseconds patience)
      : path_(std::move(path)), patience_(patience) {}

  // An idle session, or a new one when all are lent.
  core::Result<Lent> borrow();
  // A session of one's own.
  core::Result<std::unique_ptr<SqlSession>> open() const { return SqlSession::open(path_, patience_); }

 private:
  static constexpr std::size_t kMostIdle = 8;

  std::unique_ptr<SqlSession> take_idle();
  void keep(std::unique_ptr<SqlSession> session);

  const std::string path_;
  const std::chrono::milliseconds patience_;
  std::mutex mutex_;
  std::vector<std::unique_ptr<SqlSession>> idle_;  // guarded by mutex_
};

}  // namespace loadlight::store
