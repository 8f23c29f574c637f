#include "session_pool.h"

#include <utility>

namespace loadlight::store {

void SessionPool::GiveBack::operator()(SqlSession* session) const {
  pool->keep(std::unique_ptr<SqlSession>{session});
}

core::Result<SessionPool::Lent> SessionPool::borrow() {
  auto session = take_idle();
  if (!session) {
    auto opened = open();
    if (!opened) return opened.failure();
    session = std::move(*opened);
  }
  return Lent{session.release(), GiveBack{shared_from_this()}};
}

std::unique_ptr<SqlSession> SessionPool::take_idle() {
  const std::lock_guard lock{mutex_};
  if (idle_.empty()) return nullptr;
  auto session = std::move(idle_.back());
  idle_.pop_back();
  return session;
}

void SessionPool::drop_idle() {
  const std::lock_guard lock{mutex_};
  idle_.clear();
}

bool SessionPool::has_idle() {
  const std::lock_guard lock{mutex_};
  return !idle_.empty();
}

void SessionPool::keep(std::unique_ptr<SqlSession> session) {
  if (!session->is_sound()) return;
  const std::lock_guard lock{mutex_};
  if (idle_.size() < kMostIdle) idle_.push_back(std::move(session));
}

}  // namespace loadlight::store
