#include "web/once_book.h"

#include <catch2/catch.hpp>

#include <atomic>
#include <thread>
#include <vector>

using namespace loadlight;
using web::OnceBook;
using web::Response;

TEST_CASE("a form that was answered is answered the same again") {
  OnceBook book;
  REQUIRE_FALSE(book.begin("form"));
  book.settle("form", {303, "text/plain", "done", {{"Location", "/"}}, {}});
  const auto again = book.begin("form");
  REQUIRE(again);
  CHECK(again->status == 303);
  CHECK(again->body == "done");
  CHECK_FALSE(book.begin("another"));
  book.settle("another", {});
}

TEST_CASE("a form that failed may be sent again") {
  OnceBook book;
  REQUIRE_FALSE(book.begin("form"));
  book.settle("form", {409, "text/plain", "refused", {}, {}});
  CHECK_FALSE(book.begin("form"));
  book.settle("form", {});
}

TEST_CASE("of several who send one form at once one does the work and all have its answer") {
  OnceBook book;
  std::atomic<int> worked{0};
  std::atomic<int> answered{0};
  std::vector<std::thread> threads;
  for (int i = 0; i < 8; ++i) {
    threads.emplace_back([&] {
      const auto earlier = book.begin("form");
      if (earlier) {
        answered += earlier->body == "done";
        return;
      }
      ++worked;
      std::this_thread::sleep_for(std::chrono::milliseconds{20});
      book.settle("form", {200, "text/plain", "done", {}, {}});
    });
  }
  for (auto& thread : threads) thread.join();
  CHECK(worked == 1);
  CHECK(answered == 7);
}

TEST_CASE("when the first of two fails the second does the work") {
  OnceBook book;
  REQUIRE_FALSE(book.begin("form"));
  bool second_works = false;
  std::thread second{[&] {
    second_works = !book.begin("form");
    if (second_works) book.settle("form", {});
  }};
  book.settle("form", {500, {}, {}, {}, {}});
  second.join();
  CHECK(second_works);
}

TEST_CASE("old forms are forgotten") {
  OnceBook book;
  for (std::size_t i = 0; i <= OnceBook::kMost; ++i) {
    const std::string form = std::to_string(i);
    REQUIRE_FALSE(book.begin(form));
    book.settle(form, {});
  }
  CHECK_FALSE(book.begin("0"));
  book.settle("0", {});
  CHECK(book.begin(std::to_string(OnceBook::kMost)));
}
