#include "loadlight/store/group_news.h"

#include <libpq-fe.h>
#include <poll.h>
#include <sys/eventfd.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <optional>
#include <string>
#include <thread>
#include <utility>

#include "news_channel.h"
#include "postgres_line.h"

namespace loadlight::store {
namespace {

constexpr std::chrono::milliseconds kBetweenTries{1000};
constexpr std::chrono::milliseconds kPatience{5000};  // for an answer

class Listener final : public port::ChangeListener {
 public:
  Listener(std::string address, std::function<void()> told)
      : address_(std::move(address)), told_(std::move(told)), ending_(::eventfd(0, EFD_CLOEXEC)), thread_([this] { run(); }) {}

  ~Listener() override {
    ended_ = true;
    (void)::eventfd_write(ending_, 1);
    thread_.join();
    ::close(ending_);
  }

  bool hears() const override { return hears_; }

 private:
  void run() {
    while (!ended_) {
      const Line line = listening_line();
      if (line) {
        hears_ = true;
        told_();  // of what happened before
        listen_on(line.get());
        hears_ = false;
        if (!ended_) told_();
      }
      wait(-1, kBetweenTries);
    }
  }

  // Null when it cannot be had now.
  Line listening_line() {
    Line line = open_line(address_);
    if (PQstatus(line.get()) != CONNECTION_OK) return nullptr;
    PQsetNoticeProcessor(line.get(), [](void*, const char*) {}, nullptr);
    const Answer office = answer(line.get(), "SELECT loadlight.own_office()");
    if (PQresultStatus(office.get()) != PGRES_TUPLES_OK || PQgetisnull(office.get(), 0, 0) == 1) return nullptr;
    const Answer listening = answer(line.get(), "LISTEN " + news_channel(PQgetvalue(office.get(), 0, 0)));
    return PQresultStatus(listening.get()) == PGRES_COMMAND_OK ? std::move(line) : nullptr;
  }

  Answer answer(PGconn* line, const std::string& sql) const {
    if (PQsendQuery(line, sql.c_str()) == 0) return nullptr;
    return wait_for_answer(address_, line, kPatience);
  }

  // Until the line breaks or the listener ends.
  void listen_on(PGconn* line) {
    while (!ended_) {
      wait(PQsocket(line), {});
      if (ended_ || PQconsumeInput(line) == 0) return;
      bool changed = false;
      while (PGnotify* news = PQnotifies(line)) {
        changed = true;
        PQfreemem(news);
      }
      if (changed) told_();
    }
  }

  // For something to read, or for the end.
  void wait(int socket, std::optional<std::chrono::milliseconds> at_most) const {
    pollfd watched[] = {{ending_, POLLIN, 0}, {socket, POLLIN, 0}};
    (void)::poll(watched, socket < 0 ? 1 : 2, at_most ? static_cast<int>(at_most->count()) : -1);
  }

  const std::string address_;
  const std::function<void()> told_;
  const int ending_;
  std::atomic<bool> ended_{false};
  std::atomic<bool> hears_{false};
  std::thread thread_;
};

}  // namespace

std::unique_ptr<port::ChangeListener> listen_for_changes(const std::string& address, std::function<void()> told) {
  return std::make_unique<Listener>(address, std::move(told));
}

}  // namespace loadlight::store
