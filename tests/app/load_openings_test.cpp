#include "app/office_at_work.h"

#include "loadlight/app/load_openings.h"

namespace loadlight::tests {
namespace {

using core::LoadName;

std::vector<std::string> codes_of(const app::LoadOpenings& openings) {
  std::vector<std::string> codes;
  for (const auto& choice : openings.programs) codes.push_back(choice.program.code);
  return codes;
}

}  // namespace

TEST_CASE("The next load is the lowest that labels reserved, else the next number") {
  OfficeAtWork office;
  REQUIRE(must(app::load_openings(office.ports(), "S1")).next == LoadName{"S1", 1});
  office.print({"S1", 1});
  office.print({"S1", 2});
  REQUIRE(must(app::load_openings(office.ports(), "S1")).next == LoadName{"S1", 1});
  must(app::open_load(office.ports(), {"CD", "S1", "steam-134", {}, {}, {}}));
  REQUIRE(must(app::load_openings(office.ports(), "S1")).next == LoadName{"S1", 2});
  REQUIRE(code_of(app::load_openings(office.ports(), "S9")) == "code-unknown");
}

TEST_CASE("Every program that is offered can be opened and no other") {
  for (const std::string sterilizer : {"S1", "S2"}) {
    OfficeAtWork office;
    const auto offered = codes_of(must(app::load_openings(office.ports(), sterilizer)));
    REQUIRE_FALSE(offered.empty());
    for (const core::Program& program : core::all_programs()) {
      CAPTURE(sterilizer, program.code);
      const bool is_offered = std::find(offered.begin(), offered.end(), program.code) != offered.end();
      REQUIRE(is_offered ==
              app::open_load(office.ports(), {"CD", sterilizer, program.code, {}, {}, {}}).ok());
    }
  }
}

TEST_CASE("Where the day's test stands is told before a load starts") {
  OfficeAtWork office{"us-cdc-2003", 180, DailyTests::AsTheProfileAsks};
  REQUIRE(must(app::load_openings(office.ports(), "S1")).daily_test == core::DailyTest::Missing);
  REQUIRE(must(app::load_openings(office.ports(), "S2")).daily_test == core::DailyTest::NotAsked);
  OfficeAtWork set_aside;
  REQUIRE(must(app::load_openings(set_aside.ports(), "S1")).daily_test == core::DailyTest::NotAsked);
}

TEST_CASE("A record that breaks off offers nothing") {
  OfficeAtWork whole;
  whole.store.break_call(0, broken_store());
  REQUIRE(app::load_openings(whole.ports(), "S1").ok());
  const int calls = whole.store.calls();
  for (int nth = 1; nth <= calls; ++nth) {
    OfficeAtWork office;
    office.store.break_call(nth, broken_store());
    CAPTURE(nth, calls);
    REQUIRE_FALSE(app::load_openings(office.ports(), "S1").ok());
  }
}

}  // namespace loadlight::tests
