// Sessions with one record, lent to whoever works on it.
#pragma once

#include <functional>
#include <memory>
#include <mutex>
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

  using Opener = std::function<core::Result<std::unique_ptr<SqlSession>>()>;

  explicit SessionPool(Opener opener) : opener_(std::move(opener)) {}

  // An idle session, or a new one when all are lent.
  core::Result<Lent> borrow();
  // A session of one's own.
  core::Result<std::unique_ptr<SqlSession>> open() const { return opener_(); }
  // Takes a session that stands open already.
  void keep(std::unique_ptr<SqlSession> session);
  void drop_idle();
  bool has_idle();

 private:
  static constexpr std::size_t kMostIdle = 8;

  std::unique_ptr<SqlSession> take_idle();

  const Opener opener_;
  std::mutex mutex_;
  std::vector<std::unique_ptr<SqlSession>> idle_;  // guarded by mutex_
};

}  // namespace loadlight::store
