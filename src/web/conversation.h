// One request and its response on a connection of libmicrohttpd's, from the request's head to the response's
// last byte. Part of the listener.
#pragma once

#include <microhttpd.h>

#include <atomic>
#include <chrono>
#include <map>
#include <memory>
#include <mutex>
#include <string_view>

#include "web/http_message.h"
#include "web/worker_crew.h"

namespace loadlight::web {

class Conversation final : public std::enable_shared_from_this<Conversation> {
 public:
  // `held` counts the bytes of all bodies that are in memory.
  Conversation(MHD_Connection* connection, RequestHead head, Answerer& answerer,
               std::atomic<std::uint64_t>& held);
  ~Conversation();

  // A piece of the body. False: the connection is to be closed.
  bool take(std::string_view piece);
  // The body is whole, or the answer is there.
  MHD_Result go_on(WorkerCrew& crew);
  // Nothing is to be waited for any more.
  void end();
  // The connection is gone.
  void forget();

 private:
  using Time = std::chrono::steady_clock::time_point;

  bool keep(std::string_view piece);
  void drop_body();
  void answer(const Request& request);
  void answer_with(Response response);
  MHD_Result send(std::unique_lock<std::mutex> lock);
  ssize_t next_events(char* out, std::size_t most);
  static ssize_t read_events(void* self, std::uint64_t, char* out, std::size_t most);
  bool write_to_file(std::string_view piece);
  MHD_Response* made(const Response& response);

  MHD_Connection* connection_;
  Answerer& answerer_;
  std::atomic<std::uint64_t>& held_;
  Request request_;
  BodyPlan plan_;
  Time begun_;
  std::uint64_t received_ = 0;
  int refused_ = 0;  // HTTP status, once the body is not wanted any more
  int file_ = -1;

  std::mutex mutex_;  // of what follows
  bool asked_ = false;
  bool suspended_ = false;
  bool over_ = false;
  std::optional<Response> response_;
  std::string unsent_;  // of events
};

class Conversations final {
 public:
  // Null when there is no memory for it.
  Conversation* begin(MHD_Connection* connection, const char* url, const char* method, bool secure,
                      Answerer& answerer);
  void forget(Conversation* conversation);
  void end_all();

 private:
  std::atomic<std::uint64_t> held_{0};
  std::mutex mutex_;
  std::map<Conversation*, std::shared_ptr<Conversation>> all_;
};

}  // namespace loadlight::web
