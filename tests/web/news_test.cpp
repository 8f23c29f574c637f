#include "web/news.h"

#include <catch2/catch.hpp>

#include <future>
#include <thread>

using namespace loadlight;
using web::News;

namespace {

// A record whose state is set by the test.
struct Record {
  std::mutex mutex;
  std::optional<std::string> state = "1";

  void set(std::optional<std::string> to) {
    const std::lock_guard lock{mutex};
    state = std::move(to);
  }
  News::Look look() {
    return [this] {
      const std::lock_guard lock{mutex};
      return state;
    };
  }
};

// What the stream gives until it holds `wanted`, for up to ten seconds.
std::string until(web::EventStream& stream, const std::string& wanted) {
  std::string got;
  for (int i = 0; i < 1000 && got.find(wanted) == std::string::npos; ++i) {
    got += stream.take().value_or("");
    std::this_thread::sleep_for(std::chrono::milliseconds{10});
  }
  return got;
}

}  // namespace

TEST_CASE("a page is told at once where the record stands and then of each change") {
  Record record;
  News news{record.look()};
  const auto stream = news.subscribe();
  CHECK(stream->take() == "retry: 2000\nevent: record\ndata: 1\n\n");
  record.set("2");
  CHECK(until(*stream, "data: 2").find("event: record\ndata: 2\n\n") != std::string::npos);
}

TEST_CASE("a record that cannot be read is told as lost and when it is back") {
  Record record;
  News news{record.look()};
  const auto stream = news.subscribe();
  stream->take();
  record.set(std::nullopt);
  CHECK(until(*stream, "lost").find("event: lost\n") != std::string::npos);
  record.set("3");
  CHECK(until(*stream, "data: 3").find("event: record\ndata: 3\n\n") != std::string::npos);
  record.set(std::nullopt);
  CHECK(news.subscribe()->take().value_or("").find("event: lost") != std::string::npos);
}

TEST_CASE("whoever waits is woken") {
  Record record;
  News news{record.look()};
  const auto stream = news.subscribe();
  stream->take();
  std::promise<void> woken;
  std::atomic<bool> told{false};
  stream->on_news([&] {
    if (!told.exchange(true)) woken.set_value();
  });
  record.set("2");
  CHECK(woken.get_future().wait_for(std::chrono::seconds{10}) == std::future_status::ready);
}

TEST_CASE("a stream that nobody holds any more is forgotten") {
  Record record;
  News news{record.look()};
  { const auto gone = news.subscribe(); }
  const auto stream = news.subscribe();
  record.set("2");
  CHECK_FALSE(until(*stream, "data: 2").empty());
}

namespace {

// Told by the test.
struct Bell {
  struct Listener final : port::ChangeListener {
    bool hears() const override { return true; }
  };
  News::Listen listen() {
    return [this](std::function<void()> changed) {
      ring = std::move(changed);
      return std::make_unique<Listener>();
    };
  }
  std::function<void()> ring;
};

}  // namespace

TEST_CASE("a change that a listener hears of is told at once, one that it does not within some seconds") {
  Record record;
  Bell bell;
  News news{record.look(), bell.listen()};
  const auto stream = news.subscribe();
  stream->take();
  record.set("2");
  bell.ring();
  CHECK(until(*stream, "data: 2").find("event: record\ndata: 2\n\n") != std::string::npos);
  record.set("3");
  CHECK(until(*stream, "data: 3").find("event: record\ndata: 3\n\n") != std::string::npos);
}
