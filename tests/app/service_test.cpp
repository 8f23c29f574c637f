#include "app/incident_scene.h"
#include "loadlight/app/list_due.h"

namespace loadlight::tests {
namespace {

using core::LoadName;
using core::ServiceKind;

std::string serviced(OfficeAtWork& office, ServiceKind kind, bool counter_reset = false,
                     const char* note = "by the maker's engineer") {
  return code_of(app::record_service(office.ports(), {"CD", "S1", kind, note, counter_reset, {}}));
}

bool is_due(OfficeAtWork& office, core::DueKind kind) {
  for (const auto& item : must(app::list_due(office.ports()))) {
    if (item.kind == kind && item.subject == "S1") return true;
  }
  return false;
}

core::Result<app::FinishLoadReply> run(OfficeAtWork& office, int number, int counter) {
  const LoadName load{"S1", number};
  office.start(load, office.print(load));
  office.clock.turn(std::chrono::minutes{45});
  return app::finish_load(office.ports(), {"CD", load, "", counter});
}

}  // namespace

TEST_CASE("The machine's counter begins again only after a recorded service", "[R20]") {
  OfficeAtWork office;
  must(run(office, 1, 100));
  REQUIRE(code_of(run(office, 2, 1)) == "counter-repeated");
  must(app::finish_load(office.ports(), {"CD", {"S1", 2}, "", 101}));
  REQUIRE(serviced(office, ServiceKind::Maintenance) == "ok");
  REQUIRE(code_of(run(office, 3, 1)) == "counter-repeated");
  REQUIRE(serviced(office, ServiceKind::Maintenance, true) == "ok");
  office.clock.turn(std::chrono::minutes{1});
  REQUIRE(must(app::finish_load(office.ports(), {"CD", {"S1", 3}, "", 1})).counter_gap == 0);
  REQUIRE(must(run(office, 4, 4)).counter_gap == 2);
  REQUIRE(code_of(run(office, 5, 100)) == "ok");
}

// CDC 2008 as quoted and Danish recommendations: tests after installation, repair and moving.
TEST_CASE("A repair asks tests that stay due until they have passed", "[R24][R27]") {
  for (ServiceKind kind : {ServiceKind::Installed, ServiceKind::Repair, ServiceKind::Moved}) {
    OfficeAtWork office;
    REQUIRE(serviced(office, kind) == "ok");
    REQUIRE(is_due(office, core::DueKind::RetestAfterService));
    office.clock.turn(std::chrono::minutes{1});
    office.released_package({"S1", 1});
    must(stay_clear(office, {"S1", 1}));
    REQUIRE(is_due(office, core::DueKind::RetestAfterService));
    const auto test =
        must(app::open_load(office.ports(), {"CD", "S1", "steam-134", core::LoadPurpose::BowieDick, 2, {}}));
    must(app::start_load(office.ports(), {"CD", test.name}));
    office.finish(test.name);
    app::IndicatorRequest sheet;
    sheet.operator_code = "CD";
    sheet.load = test.name;
    sheet.place = core::IndicatorPlace::ProcessChallenge;
    sheet.type = 2;
    sheet.lot = "BD1";
    sheet.expires = *core::CivilDate::from(2030, 1, 1);
    sheet.passed = true;
    must(app::record_indicator(office.ports(), sheet));
    office.release(test.name);
    REQUIRE_FALSE(is_due(office, core::DueKind::RetestAfterService));
  }
}

TEST_CASE("Maintenance asks no test, and the next one is due on its day") {
  OfficeAtWork office;
  app::ServiceRequest request{"CD",     "S1",  ServiceKind::Maintenance,
                              "yearly", false, core::CivilDate::from(2026, 12, 1)};
  must(app::record_service(office.ports(), request));
  REQUIRE_FALSE(is_due(office, core::DueKind::RetestAfterService));
  REQUIRE(is_due(office, core::DueKind::Service));
}

TEST_CASE("A service says what was done, by an operator, on a sterilizer that is known") {
  OfficeAtWork office;
  REQUIRE(serviced(office, ServiceKind::Repair, false, "") == "reason-missing");
  REQUIRE(serviced(office, ServiceKind::OutOfService) == "bad-value");
  REQUIRE(serviced(office, ServiceKind::Returned) == "bad-value");
  REQUIRE(code_of(app::record_service(office.ports(), {"CD", "S9", ServiceKind::Repair, "x", false, {}})) ==
          "code-unknown");
  REQUIRE(must(app::service_log(office.ports(), "S1")).empty());
  REQUIRE(serviced(office, ServiceKind::Repair) == "ok");
  const auto log = must(app::service_log(office.ports(), "S1"));
  REQUIRE(log.size() == 1);
  REQUIRE(log[0].done_by == "CD");
  REQUIRE(log[0].note == "by the maker's engineer");
}

TEST_CASE("A sterilizer is taken out of service by anyone with a reason, and returned by the lead") {
  OfficeAtWork office;
  const auto out = [&](const char* why) {
    return code_of(app::take_out_of_service(office.ports(), {"CD", "S1", why}));
  };
  REQUIRE(out("") == "reason-missing");
  REQUIRE(out("door seal leaks") == "ok");
  REQUIRE_FALSE(is_in_service(office, "S1"));
  REQUIRE(code_of(app::return_to_service(office.ports(), {"CD", "S1", "new seal"})) == "lead-required");
  REQUIRE(code_of(app::return_to_service(office.ports(), {"AB", "S1", ""})) == "reason-missing");
  REQUIRE(return_s1(office) == "ok");
  REQUIRE(is_in_service(office, "S1"));
  REQUIRE(must(app::service_log(office.ports(), "S1")).size() == 2);
}

TEST_CASE("Whichever call of the store fails, services are recorded whole or not at all") {
  const auto nothing = [](OfficeAtWork&) { return 0; };
  require_all_or_nothing(
      nothing, [](OfficeAtWork& office, int) { return serviced(office, ServiceKind::Repair) == "ok"; });
  require_all_or_nothing(nothing, [](OfficeAtWork& office, int) {
    return app::take_out_of_service(office.ports(), {"CD", "S1", "seal"}).ok();
  });
}

}  // namespace loadlight::tests
