#include "loadlight/system/checkpoint_book.h"

#include <sys/stat.h>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <thread>

#include "loadlight/system/files.h"
#include "scratch_folder.h"
#include "system/checkpoint_text.h"

using namespace loadlight;
using core::Checkpoint;

namespace {

const core::Instant kAt = core::instant_from(1764079387000);

// The station's folder is named by the environment, as for the program.
class Station final {
 public:
  Station() { ::setenv("LOADLIGHT_STATION", folder_.path("station").c_str(), 1); }
  ~Station() { ::unsetenv("LOADLIGHT_STATION"); }

  std::string path(const std::string& name) const { return folder_.path("station/" + name); }

 private:
  ScratchFolder folder_;
};

Checkpoint point(std::int64_t sequence, char office = 'b') {
  return {sequence, std::string(64, 'a'), kAt + std::chrono::seconds{sequence}, std::string(64, office), {}, {}, {}};
}

port::CheckpointList must(const core::Result<port::CheckpointList>& list) {
  REQUIRE(list);
  return *list;
}

mode_t mode_of(const std::string& path) {
  struct stat held {};
  REQUIRE(::stat(path.c_str(), &held) == 0);
  return held.st_mode & 0777;
}

}  // namespace

TEST_CASE("A checkpoint is kept in the office and at the station, and both say the same of it") {
  const Station station;
  const ScratchFolder office;
  const auto book = system::open_checkpoint_book(office.path(""));
  CHECK_FALSE(must(book->of_office()).present);
  CHECK_FALSE(book->newest());
  const auto kept = book->keep(point(7));
  REQUIRE(kept);
  for (const auto& list : {must(book->of_office()), must(book->of_station(kept->office))}) {
    REQUIRE(list.kept.size() == 1);
    CHECK(list.kept[0].checkpoint == *kept);
    CHECK(list.kept[0].genuine);
    CHECK(list.kept[0].own);
    CHECK(list.unreadable == 0);
  }
  CHECK(book->newest() == kept->at);
  CHECK(mode_of(station.path("")) == 0700);
  CHECK(mode_of(station.path("signing.key")) == 0600);
  CHECK(mode_of(station.path(kept->office + ".checkpoints")) == 0600);
}

TEST_CASE("Any other value in a checkpoint is not what was signed") {
  const Station station;
  const ScratchFolder office;
  const auto book = system::open_checkpoint_book(office.path(""));
  const auto kept = book->keep(point(7));
  REQUIRE(kept);
  const auto genuine = [&](Checkpoint other) {
    const auto list = book->parse("given", book->line_of(other));
    REQUIRE(list.kept.size() == 1);
    return list.kept[0].genuine;
  };
  CHECK(genuine(*kept));
  Checkpoint other = *kept;
  other.sequence = 8;
  CHECK_FALSE(genuine(other));
  other = *kept, other.hash[0] = 'c';
  CHECK_FALSE(genuine(other));
  other = *kept, other.at += std::chrono::milliseconds{1};
  CHECK_FALSE(genuine(other));
  other = *kept, other.office[63] = 'c';
  CHECK_FALSE(genuine(other));
  other = *kept, other.restored_after = 3;
  CHECK_FALSE(genuine(other));
  other = *kept, other.key[0] = other.key[0] == '0' ? '1' : '0';
  CHECK_FALSE(genuine(other));
}

TEST_CASE("What another station signed is genuine and not our own") {
  const ScratchFolder office;
  const auto book = system::open_checkpoint_book(office.path(""));
  {
    const Station first;
    REQUIRE(system::open_checkpoint_book(office.path(""))->keep(point(1)));
  }
  const Station second;
  const auto list = must(system::open_checkpoint_book(office.path(""))->of_office());
  REQUIRE(list.kept.size() == 1);
  CHECK(list.kept[0].genuine);
  CHECK_FALSE(list.kept[0].own);
}

TEST_CASE("A line that was cut off is counted, and what follows is kept whole") {
  const Station station;
  const ScratchFolder office;
  const auto book = system::open_checkpoint_book(office.path(""));
  const auto first = book->keep(point(1));
  REQUIRE(first);
  const std::string path = office.path("checkpoints.jsonl");
  std::filesystem::resize_file(path, std::filesystem::file_size(path) - 20);
  CHECK_FALSE(book->newest());
  const auto second = book->keep(point(2));
  REQUIRE(second);
  const auto list = must(book->of_office());
  CHECK(list.unreadable == 1);
  REQUIRE(list.kept.size() == 1);
  CHECK(list.kept[0].checkpoint == *second);
  CHECK(list.kept[0].line == 2);
  CHECK(book->newest() == second->at);
}

TEST_CASE("Nothing that is no checkpoint passes for one") {
  const Station station;
  const ScratchFolder office;
  const auto book = system::open_checkpoint_book(office.path(""));
  for (const std::string& text :
       {std::string{"x"}, std::string{"{}"}, std::string{"[1]"}, std::string{"null"}, std::string(20000, '{'),
        std::string{"{\"sequence\":-1}"}, std::string{"{\"sequence\":\"7\"}"}, std::string("\xff\xfe")}) {
    const auto list = book->parse("given", text);
    CHECK(list.kept.empty());
    CHECK(list.unreadable == 1);
  }
  CHECK(book->parse("given", "\n \n").unreadable == 0);
}

TEST_CASE("Many append at once, and every line is whole") {
  const Station station;
  const ScratchFolder office;
  constexpr int kEach = 25;
  std::vector<std::jthread> threads;
  for (int t = 0; t < 4; ++t) {
    threads.emplace_back([&office, t] {
      const auto book = system::open_checkpoint_book(office.path(""));
      for (int i = 1; i <= kEach; ++i) (void)book->keep(point(t * kEach + i)).ok();
    });
  }
  threads.clear();
  const auto book = system::open_checkpoint_book(office.path(""));
  for (const auto& list : {must(book->of_office()), must(book->of_station(std::string(64, 'b')))}) {
    CHECK(list.kept.size() == 4 * kEach);
    CHECK(list.unreadable == 0);
  }
}

TEST_CASE("Without a folder of its own the station keeps nothing, and says why") {
  const ScratchFolder office;
  std::ofstream{office.path("file")} << "x";
  ::setenv("LOADLIGHT_STATION", office.path("file/station").c_str(), 1);
  const auto kept = system::open_checkpoint_book(office.path(""))->keep(point(1));
  ::unsetenv("LOADLIGHT_STATION");
  REQUIRE_FALSE(kept);
  CHECK(kept.failure().code == core::FailureCode::FileUnwritable);
  CHECK_FALSE(std::filesystem::exists(office.path("checkpoints.jsonl")));
}

TEST_CASE("An office that took another's place without being begun is found out") {
  const Station station;
  const ScratchFolder office;
  const auto book = system::open_checkpoint_book(office.path(""));
  REQUIRE(book->keep(point(1, 'b')));
  REQUIRE(book->keep(point(90, 'b')));
  REQUIRE(book->keep(point(91, 'c')));
  const auto others = book->others_here(std::string(64, 'c'));
  REQUIRE(others);
  CHECK(*others == std::vector<std::string>{std::string(64, 'b')});
  CHECK(book->others_here(std::string(64, 'b'))->empty() == false);
  // Begun anew in the same folder, once the other was removed: as it should be.
  Checkpoint anew = point(1, 'd');
  anew.at = kAt + std::chrono::hours{1};
  REQUIRE(book->keep(anew));
  CHECK(book->others_here(std::string(64, 'd'))->empty());
  // Elsewhere it is none of ours.
  CHECK(system::open_checkpoint_book(office.path("other"))->others_here(std::string(64, 'd'))->empty());
}

TEST_CASE("An office that came from another folder takes up what the station knows of it, each checkpoint once") {
  const Station station;
  const ScratchFolder before, now;
  const auto kept = system::open_checkpoint_book(before.path(""))->keep(point(7));
  REQUIRE(kept);
  REQUIRE(system::open_checkpoint_book(before.path(""))->keep(point(9, 'c')));  // of another office
  const auto book = system::open_checkpoint_book(now.path(""));
  REQUIRE(book->keep(point(12)));
  for (int times = 0; times < 2; ++times) REQUIRE(system::take_up_checkpoints(now.path(""), kept->office));
  const auto list = must(book->of_office());
  REQUIRE(list.kept.size() == 2);
  CHECK(list.kept[1].checkpoint == *kept);
  CHECK(list.kept[1].own);
  CHECK(must(book->of_station(kept->office)).kept.size() == 2);
}
