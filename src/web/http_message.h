// What travels between a browser and the station, free of any library: a request as the listener received it
// whole, and the response that it sends.
#pragma once

#include <chrono>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace loadlight::web {

enum class Method { Get, Post, Other };

// Names and values in the order they came; a name may come twice.
class Fields final {
 public:
  void add(std::string name, std::string value) { all_.emplace_back(std::move(name), std::move(value)); }
  // The first of this name; empty if there is none.
  std::string_view value(std::string_view name) const;
  std::optional<std::string_view> find(std::string_view name) const;
  std::vector<std::string> values(std::string_view name) const;
  const std::vector<std::pair<std::string, std::string>>& all() const { return all_; }

 private:
  std::vector<std::pair<std::string, std::string>> all_;
};

// application/x-www-form-urlencoded, as the URL standard parses it. Nothing for more than `most` fields or for
// bytes that are not UTF-8.
std::optional<Fields> parse_form(std::string_view text, std::size_t most = 1000);

// For a path segment or a query's value: everything but letters, digits, "-", "_" and "." is escaped.
std::string url_escaped(std::string_view text);

// A body that was too large for memory, in a file of its own that goes with it.
class UploadedFile final {
 public:
  explicit UploadedFile(std::string path) : path_(std::move(path)) {}
  ~UploadedFile();
  UploadedFile(const UploadedFile&) = delete;
  UploadedFile& operator=(const UploadedFile&) = delete;
  const std::string& path() const { return path_; }

 private:
  std::string path_;
};

// What is known before the body comes.
struct RequestHead final {
  Method method = Method::Get;
  std::string path;          // decoded, begins with "/"
  Fields query;
  std::string cookie;        // the Cookie header as it came
  std::string origin;        // Origin header; empty without one
  std::string host;          // Host header
  std::string token;         // X-Loadlight-Token header
  std::string accept;        // Accept header: pages ask by fetch for application/json
  std::string content_type;  // of the body, as it came
  std::string fetched_as;    // Sec-Fetch-Dest header: "document" for a page that somebody goes to
  std::string peer;          // address, for limits; never shown
  bool local = false;        // from this machine itself
  bool secure = false;       // under TLS
};

struct Request final {
  RequestHead head;
  std::string body;                       // where the plan keeps it in memory
  std::shared_ptr<UploadedFile> upload;  // where it puts it into a file
};

// Events for one browser, as Server-Sent Events (the HTML standard). Thread-safe.
class EventStream {
 public:
  virtual ~EventStream() = default;
  // What is to be sent next; empty: nothing yet. Nothing: the stream is over.
  virtual std::optional<std::string> take() = 0;
  // `wake` is called, from any thread, whenever there may be something to take.
  virtual void on_news(std::function<void()> wake) = 0;
};

struct Response final {
  int status = 200;
  std::string content_type = "text/html; charset=utf-8";
  std::string body;
  std::vector<std::pair<std::string, std::string>> headers;
  std::shared_ptr<EventStream> events{};  // then the body is what it gives
  bool changed_meanwhile = false;         // nothing was done: another station's change was met
};

// How a request's body is taken.
struct BodyPlan final {
  std::uint64_t limit = 0;  // bytes, included
  bool to_file = false;
  std::chrono::seconds patience{30};           // for the whole of it
  std::optional<Response> refusal;             // then the body is not read
};

// Who answers. Called from several threads.
class Answerer {
 public:
  virtual ~Answerer() = default;
  virtual BodyPlan plan(const RequestHead& head) = 0;
  virtual Response answer(const Request& request) = 0;
  // For what is wrong with the request itself: 400, 408, 413, 503.
  virtual Response refuse(const RequestHead& head, int status) = 0;
};

}  // namespace loadlight::web
