#include "app/office_at_work.h"

namespace loadlight::tests {
namespace {

using core::BiologicalControl;
using core::BiologicalTest;
using core::LoadName;
using core::LoadState;

const LoadName kLoad{"S1", 1};

void finish(OfficeAtWork& office, const char* contents) {
  office.start(kLoad, office.print(kLoad, 1, contents));
  office.finish(kLoad);
}

void add_third(OfficeAtWork& office) {
  const auto unit = must(office.store.begin(port::Access::Write));
  const core::Operator third{"EF", "Third", core::Role::Staff, *core::CivilDate::from(2020, 1, 1), {}};
  must(unit->write(core::Change{core::EventKind::OperatorAdded, office.clock.now(), "AB", "EF", {}, {third}}));
  must(unit->commit());
}

// Lead AB, staff CD and EF.
void ready(OfficeAtWork& office, const char* contents) {
  add_third(office);
  finish(office, contents);
  office.give_evidence(kLoad);
}

std::string release(OfficeAtWork& office, const char* who) {
  return code_of(app::release_load(office.ports(), {who, kLoad, "", ""}));
}

std::string early(OfficeAtWork& office, const char* who, const char* second) {
  return code_of(app::release_load(office.ports(), {who, kLoad, "no other set", second}));
}

}  // namespace

TEST_CASE("Where a release is a lead's nobody else releases and the evidence stays") {
  OfficeAtWork office;
  office.set("release-by", "lead");
  ready(office, "EXAM");
  const std::size_t before = office.ledger_size();
  REQUIRE(release(office, "CD") == "release-needs-lead");
  REQUIRE(office.ledger_size() == before);
  REQUIRE(office.load(kLoad).state == LoadState::Finished);
  REQUIRE(must(app::show_load(office.ports(), kLoad)).release_by == core::Decider::Lead);
  REQUIRE(release(office, "AB") == "ok");
  REQUIRE(office.load(kLoad).decided_by == "AB");
}

TEST_CASE("What is not a release stays anyone's: to quarantine and to fail and to take back") {
  OfficeAtWork office;
  office.set("release-by", "lead");
  office.set("emergency-by", "lead");
  ready(office, "IMPL");
  REQUIRE(release(office, "CD") == "ok");
  REQUIRE(office.load(kLoad).state == LoadState::Quarantined);
  must(office.biological(kLoad, BiologicalTest::NoGrowth, BiologicalControl::Growth));
  REQUIRE(release(office, "CD") == "release-needs-lead");
  REQUIRE(release(office, "AB") == "ok");
  must(app::revoke_release(office.ports(), {"CD", kLoad, "a door seal leaks"}));
  REQUIRE(office.load(kLoad).state == LoadState::Revoked);

  OfficeAtWork other;
  other.set("release-by", "lead");
  finish(other, "EXAM");
  other.give_evidence(kLoad);
  must(app::record_readings(other.ports(), {"CD", kLoad, {132.5, 134, 3.9, 304, 20}, "read again"}));
  REQUIRE(release(other, "CD") == "ok");
  REQUIRE(other.load(kLoad).state == LoadState::Failed);
}

TEST_CASE("Where an emergency takes a lead one of its two people is one") {
  OfficeAtWork office;
  office.set("emergency-by", "lead");
  ready(office, "IMPL");
  REQUIRE(early(office, "CD", "EF") == "emergency-needs-lead");
  REQUIRE(early(office, "CD", "") == "reason-missing");
  REQUIRE(office.load(kLoad).state == LoadState::Finished);
  SECTION("the second") {
    REQUIRE(early(office, "CD", "AB") == "ok");
  }
  SECTION("the first") {
    REQUIRE(early(office, "AB", "CD") == "ok");
  }
  REQUIRE(office.load(kLoad).state == LoadState::Released);
}

TEST_CASE("Where a release is a lead's an emergency is too though its second person leads") {
  OfficeAtWork office;
  office.set("release-by", "lead");
  office.set("emergency-by", "anyone");
  ready(office, "IMPL");
  REQUIRE(early(office, "CD", "AB") == "release-needs-lead");
  REQUIRE(early(office, "AB", "CD") == "ok");
}

TEST_CASE("Any two may release as an emergency where the profile asks for no rank") {
  OfficeAtWork office;
  ready(office, "IMPL");
  REQUIRE(early(office, "CD", "EF") == "ok");
}

TEST_CASE("In the careful profile an emergency takes a lead from the first day") {
  OfficeAtWork office{"office"};
  ready(office, "IMPL");
  REQUIRE(early(office, "CD", "EF") == "emergency-needs-lead");
}

}  // namespace loadlight::tests
