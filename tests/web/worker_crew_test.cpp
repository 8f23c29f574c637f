#include "web/worker_crew.h"

#include <catch2/catch.hpp>

#include <atomic>
#include <future>

using loadlight::web::WorkerCrew;

TEST_CASE("what was taken on is done before the crew ends") {
  std::atomic<int> done{0};
  WorkerCrew crew{3, 1000};
  for (int i = 0; i < 500; ++i) REQUIRE(crew.offer([&] { ++done; }));
  crew.finish();
  CHECK(done == 500);
  CHECK_FALSE(crew.offer([&] { ++done; }));
  crew.finish();
  CHECK(done == 500);
}

TEST_CASE("more than may wait is refused and never done") {
  std::promise<void> go;
  std::promise<void> begun;
  std::atomic<int> done{0};
  WorkerCrew crew{1, 2};
  REQUIRE(crew.offer([&] { begun.set_value(); go.get_future().wait(); }));
  begun.get_future().wait();
  CHECK(crew.offer([&] { ++done; }));
  CHECK(crew.offer([&] { ++done; }));
  CHECK_FALSE(crew.offer([&] { ++done; }));
  go.set_value();
  crew.finish();
  CHECK(done == 2);
}
