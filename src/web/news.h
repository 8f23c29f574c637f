// Tells open pages that the record has changed, whoever changed it: this station, a command, another station.
#pragma once

#include <chrono>
#include <condition_variable>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "loadlight/port/change_listener.h"
#include "web/http_message.h"

namespace loadlight::web {

class News final {
 public:
  // What stands for the record's newest state; nothing when it cannot be read.
  using Look = std::function<std::optional<std::string>()>;

  // Whose listener calls what it is given at every change; null: nobody tells, and News looks by itself, often enough
  // for a page to know within a second.
  using Listen = std::function<std::unique_ptr<port::ChangeListener>(std::function<void()> changed)>;

  explicit News(Look look, Listen listen = {});
  ~News();

  // A stream of "record" events, each with the state as its data; "lost" when the record cannot be read. One
  // comes at once, so that a page knows where it stands; a comment at least every 15 seconds keeps the line open.
  std::shared_ptr<EventStream> subscribe();

 private:
  class Stream;
  void run();
  void look_soon();
  std::chrono::milliseconds between_looks() const;
  void tell(const std::string& event);

  Look look_;
  std::mutex mutex_;
  std::condition_variable waking_;
  bool ended_ = false;
  bool joined_ = false;   // somebody, since the last look
  bool changed_ = false;  // the record, since the last look, as far as somebody told
  std::vector<std::weak_ptr<Stream>> streams_;
  std::unique_ptr<port::ChangeListener> listener_;
  std::thread thread_;
};

}  // namespace loadlight::web
