#include "web/news.h"

#include <algorithm>
#include <chrono>
#include <utility>

namespace loadlight::web {
namespace {

using Clock = std::chrono::steady_clock;

constexpr std::chrono::milliseconds kBetweenLooks{700};
// Where others tell of their changes: for one that they could not tell of.
constexpr std::chrono::milliseconds kBetweenLooksOfAListener{5000};
constexpr std::chrono::milliseconds kLeastBetweenLooks{50};
constexpr std::chrono::seconds kBetweenHeartbeats{10};
constexpr std::size_t kMostUntaken = 64;  // events; a browser that does not take them is cut off

std::string event_of(const std::optional<std::string>& state) {
  return state ? "event: record\ndata: " + *state + "\n\n" : std::string{"event: lost\ndata:\n\n"};
}

}  // namespace

class News::Stream final : public EventStream {
 public:
  std::optional<std::string> take() override {
    const std::lock_guard lock{mutex_};
    if (untaken_ > kMostUntaken) return std::nullopt;
    untaken_ = 0;
    return std::exchange(waiting_, {});
  }
  void on_news(std::function<void()> wake) override {
    const std::lock_guard lock{mutex_};
    wake_ = std::move(wake);
  }
  void add(const std::string& event) {
    std::function<void()> wake;
    {
      const std::lock_guard lock{mutex_};
      if (++untaken_ <= kMostUntaken) waiting_ += event;
      wake = wake_;
    }
    if (wake) wake();
  }

 private:
  std::mutex mutex_;
  std::string waiting_;
  std::size_t untaken_ = 0;
  std::function<void()> wake_;
};

News::News(Look look, Listen listen)
    : look_(std::move(look)),
      listener_(listen ? listen([this] { look_soon(); }) : nullptr),
      thread_([this] { run(); }) {}

News::~News() {
  {
    const std::lock_guard lock{mutex_};
    ended_ = true;
  }
  waking_.notify_all();
  thread_.join();
  listener_.reset();
}

std::shared_ptr<EventStream> News::subscribe() {
  auto stream = std::make_shared<Stream>();
  stream->add("retry: 2000\n" + event_of(look_()));
  const std::lock_guard lock{mutex_};
  streams_.push_back(stream);
  joined_ = true;
  waking_.notify_all();
  return stream;
}

void News::tell(const std::string& event) {
  std::vector<std::shared_ptr<Stream>> all;
  {
    const std::lock_guard lock{mutex_};
    std::erase_if(streams_, [](const auto& weak) { return weak.expired(); });
    for (const auto& weak : streams_) {
      if (auto stream = weak.lock()) all.push_back(std::move(stream));
    }
  }
  for (const auto& stream : all) stream->add(event);
}

void News::look_soon() {
  const std::lock_guard lock{mutex_};
  changed_ = true;
  waking_.notify_all();
}

std::chrono::milliseconds News::between_looks() const {
  return listener_ && listener_->hears() ? kBetweenLooksOfAListener : kBetweenLooks;
}

void News::run() {
  std::optional<std::string> last;
  Clock::time_point heartbeat = Clock::now();
  std::unique_lock lock{mutex_};
  while (!waking_.wait_for(lock, kLeastBetweenLooks, [this] { return ended_; })) {
    waking_.wait_for(lock, between_looks(), [this] { return ended_ || joined_ || changed_; });
    if (ended_) return;
    const bool heard = !streams_.empty();
    const bool joined = std::exchange(joined_, false);
    changed_ = false;
    lock.unlock();
    if (heard) {
      const auto now = look_();
      // Whoever joined may have been told another state than the one seen here last.
      if (joined || now != last) tell(event_of(now));
      last = now;
      if (Clock::now() - heartbeat >= kBetweenHeartbeats) {
        tell(": here\n\n");
        heartbeat = Clock::now();
      }
    }
    lock.lock();
  }
}

}  // namespace loadlight::web
