#include "loadlight/app/list_audits.h"

#include "app/audit_scene.h"

namespace loadlight::tests {
namespace {

// Stopped after its first frame.
app::AuditRequest cut_short(app::AuditRequest request) {
  request.tell = [](const app::AuditProgress&) { return app::AuditStep::Interrupt; };
  return request;
}

}  // namespace

TEST_CASE("Past audits are listed newest first with what their end counted") {
  AuditScene scene;
  const auto packages = scene.shelved(2);
  PlayedShelf shelf;
  shelf.show({packages[0].payload});
  scene.audit(shelf);
  scene.office.clock.turn_days(1);
  auto second = scene.request();
  second.location = "SHELF2";
  scene.audit(shelf, second);
  const auto audits = must(app::newest_audits(scene.office.ports(), 10));
  REQUIRE(audits.size() == 2);
  CHECK(audits[0].audit == "SHELF2-1");
  CHECK(audits[1].audit == "SHELF1-1");
  CHECK(audits[1].location == "SHELF1");
  CHECK(audits[1].begun_by == scene.request().operator_code);
  CHECK(audits[1].ended_at.has_value());
  CHECK(audits[1].packages == 1);
  CHECK(audits[1].not_seen == 1);
  CHECK_FALSE(audits[1].to_be_resumed);
  CHECK(must(app::newest_audits(scene.office.ports(), 1)).size() == 1);
}

TEST_CASE("Of audits that were cut off the newest of a place and source is the one to be resumed") {
  AuditScene scene;
  PlayedShelf shelf;
  shelf.show({});
  scene.audit(shelf, cut_short(scene.request()));
  scene.audit(shelf, cut_short(scene.request()));
  auto elsewhere = cut_short(scene.request());
  elsewhere.source = "another film";
  scene.audit(shelf, elsewhere);
  const auto audits = must(app::newest_audits(scene.office.ports(), 10));
  REQUIRE(audits.size() == 3);
  CHECK(audits[0].to_be_resumed);
  CHECK(audits[1].to_be_resumed);
  CHECK_FALSE(audits[2].to_be_resumed);
  CHECK(audits[1].audit == "SHELF1-2");
  CHECK_FALSE(audits[1].ended_at);
}

TEST_CASE("While it goes on an audit tells its name and which labels are in view with their outcome") {
  AuditScene scene;
  const auto packages = scene.shelved(2);
  must(
      app::withdraw_package(scene.office.ports(), {"CD", packages[1].id.text(), core::WithdrawReason::Torn}));
  PlayedShelf shelf;
  shelf.show({packages[0].payload, packages[1].payload, "https://maker.example"});
  shelf.show({});
  std::string name;
  std::vector<app::AuditProgress> told;
  auto request = scene.request();
  request.begun = [&](const std::string& audit) { name = audit; };
  request.tell = [&](const app::AuditProgress& progress) {
    told.push_back(progress);
    return app::AuditStep::GoOn;
  };
  scene.audit(shelf, request);
  CHECK(name == "SHELF1-1");
  REQUIRE(told.size() == 2);
  REQUIRE(told[0].in_view.size() == 2);
  CHECK(told[0].location == "SHELF1");
  CHECK(told[0].in_view[0].outcome == core::Outcome::Clear);
  CHECK(told[0].in_view[0].status == core::AuditStatus::Present);
  CHECK(told[0].in_view[0].corners[0].x == 10);
  CHECK(told[0].in_view[1].outcome == core::Outcome::DoNotUse);
  CHECK(told[0].in_view[1].status == core::AuditStatus::Unexpected);
  CHECK(told[1].in_view.empty());
}

}  // namespace loadlight::tests
