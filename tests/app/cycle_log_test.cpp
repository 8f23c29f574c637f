#include "app/office_at_work.h"
#include "loadlight/app/draw_cycle.h"
#include "loadlight/app/read_cycle_log.h"

namespace loadlight::tests {
namespace {

using core::LoadName;
using core::LoadState;
using core::Outcome;
using core::Reason;

const LoadName kLoad{"S1", 1};

std::string sample(const std::string& name) {
  return file_text(LOADLIGHT_SOURCE_DIR "/samples/cycles/" + name);
}

// A finished load of one pouch, run by a program of the table or by the office's own.
void finished(OfficeAtWork& office, const std::string& program = "dynamic-132-wrapped") {
  const auto packages = office.print(kLoad);
  must(app::open_load(office.ports(), {"CD", "S1", program, core::LoadPurpose::Process, 1, {}}));
  must(app::add_to_load(office.ports(), {"CD", kLoad, {packages[0].id.text()}, {}}));
  must(app::start_load(office.ports(), {"CD", kLoad}));
  office.finish(kLoad);
}

core::Result<app::CycleLogReply> read(OfficeAtWork& office, const std::string& name, std::string why = "",
                                      const std::string& mapping = "plain-seconds") {
  must(office.files.write("card/" + name, sample(name)));
  return app::read_cycle_log(
      office.ports(), office.files,
      {"CD", kLoad, "card/" + name, mapping,
       file_text(LOADLIGHT_SOURCE_DIR "/templates/mappings/" + mapping + ".mapping"), std::move(why)},
      {});
}

void read_indicator(OfficeAtWork& office) {
  app::IndicatorRequest request;
  request.operator_code = "CD";
  request.load = kLoad;
  request.lot = "CI7";
  request.expires = *core::CivilDate::from(2030, 1, 1);
  request.passed = true;
  must(app::record_indicator(office.ports(), request));
}

// What a load comes to on this log; a program of 134 degrees unless another is named.
app::LoadReply judged(OfficeAtWork& office, const std::string& name, const std::string& program = "steam-134",
                      const std::string& mapping = "plain-seconds") {
  finished(office, program);
  must(read(office, name, "", mapping));
  read_indicator(office);
  return office.release(kLoad);
}

}  // namespace

TEST_CASE("A load is released on a good log, and the log and its lines are kept", "[R21][R32][R35]") {
  OfficeAtWork office;
  const auto reply = judged(office, "good-prevac-134.csv");
  REQUIRE(reply.load.state == LoadState::Released);
  const auto shown = must(app::show_load(office.ports(), kLoad));
  REQUIRE(shown.criteria.size() == core::all_criteria().size());
  for (const auto& line : shown.criteria) {
    CAPTURE(line.code);
    REQUIRE(line.standing != core::Standing::NotMet);
    REQUIRE_FALSE(line.source.empty());
  }
  const auto log = must(must(office.store.begin(port::Access::Read))->evidence().find_log(1));
  REQUIRE(log->file == "good-prevac-134.csv");
  REQUIRE(log->mapping == "plain-seconds");
  REQUIRE(must(app::cycle_drawing(office.ports(), english(), kLoad)).find("<svg") != std::string::npos);
}

TEST_CASE("Decimal commas and bar are read by their mapping to the same end", "[R32]") {
  OfficeAtWork office;
  REQUIRE(judged(office, "decimal-commas.csv", "dynamic-132-wrapped", "card-comma").load.state ==
          LoadState::Released);
}

// MMWR 52(RR-17) 2003 VI.F.5: no use where mechanical results are inadequate.
TEST_CASE("A short exposure on the log fails the load", "[R29][R35]") {
  OfficeAtWork office;
  const auto reply = judged(office, "short-exposure.csv");
  REQUIRE(reply.load.state == LoadState::Failed);
  REQUIRE(reply.verdict.has(Reason::ExposureShort));
}

TEST_CASE("A dip or a gap in the exposure is never credited", "[R35]") {
  for (const char* name : {"temperature-dip.csv", "sensor-gap.csv", "aborted.csv"}) {
    OfficeAtWork office;
    CAPTURE(name);
    REQUIRE(judged(office, name).load.state == LoadState::Failed);
  }
}

// EN 285 (from memory): within 2 K of saturated steam.
TEST_CASE("Trapped air and superheat on the log hold the load", "[R32]") {
  for (const char* name : {"trapped-air.csv", "superheat.csv"}) {
    OfficeAtWork office;
    const auto reply = judged(office, name);
    CAPTURE(name);
    REQUIRE(reply.load.state == LoadState::Finished);
    REQUIRE(reply.verdict.has(Reason::SteamNotSaturated));
  }
}

// CDC Guideline 2008, Table 7: 20 minutes of drying for wrapped instruments.
TEST_CASE("Short drying on the log holds the load", "[R31]") {
  OfficeAtWork office;
  const auto reply = judged(office, "wet-load.csv", "dynamic-132-wrapped");
  REQUIRE(reply.load.state == LoadState::Finished);
  REQUIRE(reply.verdict.reasons() == std::vector{Reason::DryingShort});
}

TEST_CASE("A log outweighs readings that were typed in") {
  OfficeAtWork office;
  finished(office, "steam-134");
  must(app::record_readings(office.ports(), {"CD", kLoad, {134.5, 136, 3.5, 315, 20}, ""}));
  must(read(office, "short-exposure.csv"));
  read_indicator(office);
  REQUIRE(office.release(kLoad).load.state == LoadState::Failed);
}

TEST_CASE("A second log of the same load needs a reason, and both are kept") {
  OfficeAtWork office;
  finished(office, "steam-134");
  must(read(office, "short-exposure.csv"));
  REQUIRE(code_of(read(office, "good-prevac-134.csv")) == "result-differs");
  const auto second = must(read(office, "good-prevac-134.csv", "the other was of the run before"));
  REQUIRE(second.load.cycle_log == 2);
  const auto unit = must(office.store.begin(port::Access::Read));
  REQUIRE(must(unit->evidence().find_log(1))->file == "short-exposure.csv");
  REQUIRE(must(unit->evidence().find_log(2))->why == "the other was of the run before");
}

TEST_CASE("A log is taken after the end of its load and before the decision") {
  OfficeAtWork office;
  const auto packages = office.print(kLoad);
  office.start(kLoad, packages);
  REQUIRE(code_of(read(office, "good-prevac-134.csv")) == "load-wrong-state");
  office.finish(kLoad);
  office.give_evidence(kLoad);
  office.release(kLoad);
  REQUIRE(code_of(read(office, "good-prevac-134.csv")) == "load-wrong-state");
}

TEST_CASE("A log that cannot be read changes nothing and names its lines") {
  OfficeAtWork office;
  finished(office);
  const std::size_t before = office.ledger_size();
  const auto from = [&](const std::string& text, const std::string& mapping) {
    must(office.files.write("log.csv", text));
    return app::read_cycle_log(office.ports(), office.files, {"CD", kLoad, "log.csv", "m", mapping, ""}, {});
  };
  const std::string plain = file_text(LOADLIGHT_SOURCE_DIR "/templates/mappings/plain-seconds.mapping");
  const auto damaged = from("seconds,celsius,kpa\n0,20,100\n2,nonsense,100\n", plain);
  REQUIRE(code_of(damaged) == "bad-cycle-log");
  REQUIRE_FALSE(damaged.failure().items.empty());
  REQUIRE(code_of(from("seconds,celsius,kpa\n0,20,100\n", "loadlight-mapping 9\n")) == "bad-mapping");
  REQUIRE(code_of(app::read_cycle_log(office.ports(), office.files, {"CD", kLoad, "absent", "m", plain, ""},
                                      {})) == "file-unreadable");
  REQUIRE(office.ledger_size() == before);
}

TEST_CASE("Reading a log stops when it is told to, and leaves nothing") {
  OfficeAtWork office;
  finished(office);
  must(office.files.write("log.csv", sample("good-prevac-134.csv")));
  std::uint64_t seen = 0;
  const auto stopped =
      app::read_cycle_log(office.ports(), office.files,
                          {"CD", kLoad, "log.csv", "plain-seconds",
                           file_text(LOADLIGHT_SOURCE_DIR "/templates/mappings/plain-seconds.mapping"), ""},
                          [&](std::uint64_t done, std::uint64_t total) {
                            REQUIRE(done <= total);
                            seen = done;
                            return done < 300;
                          });
  REQUIRE(code_of(stopped) == "wrong-usage");
  REQUIRE(seen == 300);
  REQUIRE_FALSE(office.load(kLoad).cycle_log);
}

TEST_CASE("Whichever call of the store fails, a log is read in whole or not at all") {
  require_all_or_nothing(
      [](OfficeAtWork& office) {
        finished(office);
        return 0;
      },
      [](OfficeAtWork& office, int) { return read(office, "wet-load.csv").ok(); });
}

}  // namespace loadlight::tests
