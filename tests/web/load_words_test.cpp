#include <catch2/catch.hpp>

#include <set>

#include "loadlight/core/cycle_criteria.h"
#include "loadlight/core/evidence.h"
#include "loadlight/core/indicator_types.h"
#include "loadlight/core/load.h"
#include "loadlight/core/readings_criteria.h"
#include "loadlight/core/upkeep.h"
#include "web/load_view.h"
#include "web/paper_world.h"
#include "web/posted_file.h"

using namespace loadlight;

namespace {

template <class E>
void check_words(const std::string& before) {
  for (const auto& term : core::Vocabulary<E>::kTerms) {
    CAPTURE(before, term.text);
    CHECK(web::english().has(before + std::string{term.text}));
  }
}

}  // namespace

TEST_CASE("everything that a load's page shows has its words") {
  check_words<core::LoadState>("load.stands.");
  check_words<core::LoadState>("detail.state.");
  check_words<core::LoadPurpose>("load.purpose.");
  check_words<core::LoadKind>("load.kind.");
  check_words<core::IndicatorPlace>("load.indicator-place.");
  check_words<core::BiologicalReader>("load.biological-reader.");
  check_words<core::BiologicalTest>("load.biological-test.");
  check_words<core::BiologicalControl>("load.biological-control.");
  check_words<core::Standing>("standing.");
  for (const auto& type : core::all_indicator_types()) {
    CHECK(web::english().has("load.indicator-type." + std::to_string(type.number)));
  }
}

TEST_CASE("every unit of a criterion has its words") {
  core::CycleReader reader{core::CycleSettings{}};
  auto lines = core::judge_cycle(reader.findings(), {});
  for (const auto& line : core::judge_readings({}, {})) lines.push_back(line);
  std::set<std::string> units;
  for (const auto& line : lines) units.emplace(line.unit);
  CHECK(units.size() > 3);
  for (const std::string& unit : units) {
    CAPTURE(unit);
    CHECK(web::english().text("unit." + unit, {{"value", "4.5"}}).find("4.5") == 0);
  }
}

TEST_CASE("numbers are shown with at most two decimals and none that say nothing") {
  CHECK(web::short_number(4.5) == "4.5");
  CHECK(web::short_number(134) == "134");
  CHECK(web::short_number(3.926) == "3.93");
  CHECK(web::short_number(-0.001) == "0");
  CHECK(web::short_number(1e300) == "?");
}

TEST_CASE("a file's name as told loses its folders and whatever breaks a line") {
  CHECK(web::plain_file_name("C:\\logs\\run 7.csv") == "run 7.csv");
  CHECK(web::plain_file_name("../../etc/passwd") == "passwd");
  CHECK(web::plain_file_name("a\nb\x7f") == "a b ");
  CHECK(web::plain_file_name("") == "log");
  CHECK(web::plain_file_name("logs/") == "log");
  std::string umlauts;
  for (int i = 0; i < 80; ++i) umlauts += "\xc3\xa4";
  CHECK(web::plain_file_name("x" + umlauts) == "x" + umlauts.substr(0, 98));
}

TEST_CASE("a posted file is handed on in chunks, in order and whole") {
  const std::string bytes(600u << 10, 'x');
  const web::PostedFile file{bytes};
  std::string taken;
  REQUIRE(file.each_chunk("any", [&](const port::Files::Chunk& chunk) {
    CHECK(chunk.before == taken.size());
    CHECK(chunk.total == bytes.size());
    taken += chunk.bytes;
    return true;
  }));
  CHECK(taken == bytes);
  int chunks = 0;
  REQUIRE(file.each_chunk("any", [&](const port::Files::Chunk&) { return ++chunks < 2; }));
  CHECK(chunks == 2);
  CHECK_FALSE(file.read("any", 10).ok());
  CHECK_FALSE(file.write("any", "y").ok());
}
