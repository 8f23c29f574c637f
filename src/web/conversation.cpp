#include "web/conversation.h"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <stdlib.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <cstring>
#include <filesystem>

namespace loadlight::web {
namespace {

constexpr std::uint64_t kEventBlock = 4096;  // bytes
constexpr int kTooLarge = 413;
constexpr int kTooSlow = 408;
constexpr int kTooMuch = 503;
constexpr int kBroken = 500;
// What is beyond a limit is read and dropped, so that the refusal is seen and not a broken connection.
constexpr std::uint64_t kDrained = 512u << 20;
constexpr std::uint64_t kMostHeld = 768u << 20;  // bytes of all bodies in memory

// On one line: the library lets a lone carriage return through.
std::string header(MHD_Connection* connection, const char* name) {
  const char* value = MHD_lookup_connection_value(connection, MHD_HEADER_KIND, name);
  std::string text = value ? value : "";
  std::replace(text.begin(), text.end(), '\r', '?');
  return text;
}

MHD_Result add_query(void* fields, MHD_ValueKind, const char* name, const char* value) {
  static_cast<Fields*>(fields)->add(name, value ? value : "");
  return MHD_YES;
}

void set_peer(RequestHead& head, MHD_Connection* connection) {
  const auto* info = MHD_get_connection_info(connection, MHD_CONNECTION_INFO_CLIENT_ADDRESS);
  if (!info || info->client_addr->sa_family != AF_INET) return;
  in_addr address = reinterpret_cast<const sockaddr_in*>(info->client_addr)->sin_addr;
  char text[INET_ADDRSTRLEN] = "";
  ::inet_ntop(AF_INET, &address, text, sizeof text);
  head.peer = text;
  head.local = (ntohl(address.s_addr) >> 24) == 127;
}

RequestHead head_of(MHD_Connection* connection, const char* url, std::string_view method, bool secure) {
  RequestHead head;
  head.method = method == "POST" ? Method::Post : method == "GET" || method == "HEAD" ? Method::Get : Method::Other;
  head.path = url;
  MHD_get_connection_values(connection, MHD_GET_ARGUMENT_KIND, add_query, &head.query);
  head.cookie = header(connection, "Cookie");
  head.origin = header(connection, "Origin");
  head.host = header(connection, "Host");
  head.token = header(connection, "X-Loadlight-Token");
  head.fetched_as = header(connection, "Sec-Fetch-Dest");
  head.accept = header(connection, "Accept");
  head.content_type = header(connection, "Content-Type");
  head.secure = secure;
  set_peer(head, connection);
  return head;
}

// The length that the sender announced; 0 if it did not.
std::uint64_t announced(MHD_Connection* connection) {
  const std::string text = header(connection, "Content-Length");
  return std::strtoull(text.c_str(), nullptr, 10);
}

}  // namespace

Conversation::Conversation(MHD_Connection* connection, RequestHead head, Answerer& answerer,
                           std::atomic<std::uint64_t>& held)
    : connection_(connection), answerer_(answerer), held_(held), begun_(std::chrono::steady_clock::now()) {
  request_.head = std::move(head);
  plan_ = answerer_.plan(request_.head);
  if (announced(connection) > plan_.limit) refused_ = kTooLarge;
}

Conversation::~Conversation() {
  drop_body();
  if (file_ >= 0) ::close(file_);
}

bool Conversation::write_to_file(std::string_view piece) {
  if (file_ < 0) {
    std::error_code none;
    std::string path = (std::filesystem::temp_directory_path(none) / "loadlight-upload-XXXXXX").string();
    file_ = ::mkstemp(path.data());
    if (file_ < 0) return false;
    request_.upload = std::make_shared<UploadedFile>(path);
  }
  while (!piece.empty()) {
    const ssize_t written = ::write(file_, piece.data(), piece.size());
    if (written <= 0) return false;
    piece.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

bool Conversation::keep(std::string_view piece) {
  if (plan_.to_file) return write_to_file(piece);
  held_ += piece.size();
  request_.body.append(piece);
  return true;
}

void Conversation::drop_body() {
  held_ -= request_.body.size();
  request_.body = {};
}

bool Conversation::take(std::string_view piece) {
  received_ += piece.size();
  const bool late = std::chrono::steady_clock::now() - begun_ > plan_.patience;
  if (late && refused_ == 0) refused_ = kTooSlow;
  if (received_ > plan_.limit && refused_ == 0) refused_ = kTooLarge;
  if (refused_ != 0 || plan_.refusal) return !late && received_ <= plan_.limit + kDrained;
  if (held_ > kMostHeld) {
    refused_ = kTooMuch;
  } else if (!keep(piece)) {
    refused_ = kBroken;
  }
  return true;
}

MHD_Result Conversation::go_on(WorkerCrew& crew) {
  std::unique_lock lock{mutex_};
  if (response_) return send(std::move(lock));
  if (over_) return MHD_NO;
  if (asked_) return MHD_YES;
  asked_ = true;
  if (plan_.refusal) {
    response_ = plan_.refusal;
  } else if (refused_ != 0) {
    response_ = answerer_.refuse(request_.head, refused_);
  }
  if (response_) return send(std::move(lock));
  MHD_suspend_connection(connection_);
  suspended_ = true;
  lock.unlock();
  if (!crew.offer([self = shared_from_this()] { self->answer(self->request_); })) {
    answer_with(answerer_.refuse(request_.head, kTooMuch));
  }
  return MHD_YES;
}

void Conversation::answer(const Request& request) {
  try {
    answer_with(answerer_.answer(request));
  } catch (...) {
    answer_with(answerer_.refuse(request.head, kBroken));
  }
}

void Conversation::answer_with(Response response) {
  const std::lock_guard lock{mutex_};
  if (over_) return;
  response_ = std::move(response);
  drop_body();
  if (!suspended_) return;
  suspended_ = false;
  MHD_resume_connection(connection_);
}

MHD_Response* Conversation::made(const Response& response) {
  if (!response.events) {
    return MHD_create_response_from_buffer(response.body.size(), const_cast<char*>(response.body.data()),
                                           MHD_RESPMEM_MUST_COPY);
  }
  response.events->on_news([weak = weak_from_this()] {
    const auto self = weak.lock();
    if (!self) return;
    const std::lock_guard lock{self->mutex_};
    if (!self->suspended_ || self->over_) return;
    self->suspended_ = false;
    MHD_resume_connection(self->connection_);
  });
  return MHD_create_response_from_callback(MHD_SIZE_UNKNOWN, kEventBlock, &Conversation::read_events, this,
                                           nullptr);
}

// An answer that is there is nobody else's to change. The library holds a lock of its own while it reads an answer's
// events, which takes ours: ours is not to be held while it takes its own.
MHD_Result Conversation::send(std::unique_lock<std::mutex> lock) {
  lock.unlock();
  MHD_Response* response = made(*response_);
  if (!response) return MHD_NO;
  const std::string type = response_->events ? "text/event-stream" : response_->content_type;
  MHD_add_response_header(response, "Content-Type", type.c_str());
  for (const auto& [name, value] : response_->headers) {
    MHD_add_response_header(response, name.c_str(), value.c_str());
  }
  const MHD_Result queued =
      MHD_queue_response(connection_, static_cast<unsigned>(response_->status), response);
  MHD_destroy_response(response);
  if (!response_->events) response_->body.clear();
  return queued;
}

ssize_t Conversation::read_events(void* self, std::uint64_t, char* out, std::size_t most) {
  return static_cast<Conversation*>(self)->next_events(out, most);
}

ssize_t Conversation::next_events(char* out, std::size_t most) {
  const std::lock_guard lock{mutex_};
  if (over_) return MHD_CONTENT_READER_END_OF_STREAM;
  if (unsent_.empty()) {
    auto news = response_->events->take();
    if (!news) return MHD_CONTENT_READER_END_OF_STREAM;
    unsent_ = std::move(*news);
  }
  if (unsent_.empty()) {
    MHD_suspend_connection(connection_);
    suspended_ = true;
    return 0;
  }
  const std::size_t taken = std::min(most, unsent_.size());
  std::memcpy(out, unsent_.data(), taken);
  unsent_.erase(0, taken);
  return static_cast<ssize_t>(taken);
}

void Conversation::end() {
  const std::lock_guard lock{mutex_};
  if (response_ && !response_->events) return;  // is being sent
  over_ = true;
  if (!suspended_) return;
  suspended_ = false;
  MHD_resume_connection(connection_);
}

void Conversation::forget() {
  const std::lock_guard lock{mutex_};
  over_ = true;
  suspended_ = false;
}

Conversation* Conversations::begin(MHD_Connection* connection, const char* url, const char* method,
                                   bool secure, Answerer& answerer) {
  try {
    auto conversation = std::make_shared<Conversation>(
        connection, head_of(connection, url, method, secure), answerer, held_);
    Conversation* const handle = conversation.get();
    const std::lock_guard lock{mutex_};
    all_.emplace(handle, std::move(conversation));
    return handle;
  } catch (...) {
    return nullptr;
  }
}

void Conversations::forget(Conversation* conversation) {
  std::shared_ptr<Conversation> last;
  {
    const std::lock_guard lock{mutex_};
    const auto found = all_.find(conversation);
    if (found == all_.end()) return;
    last = std::move(found->second);
    all_.erase(found);
  }
  last->forget();
}

void Conversations::end_all() {
  const std::lock_guard lock{mutex_};
  for (const auto& [handle, conversation] : all_) conversation->end();
}

}  // namespace loadlight::web
