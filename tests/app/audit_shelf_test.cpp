#include "loadlight/app/audit_shelf.h"

#include <limits>

#include "app/audit_scene.h"
#include "loadlight/app/incidents.h"

namespace loadlight::tests {
namespace {

using core::AuditStatus;
using core::EventKind;
using core::Outcome;
using core::Reason;
using core::SeenHow;

std::string forged(const core::Package& package) {
  const auto text = core::parse_payload(package.payload);
  return std::get<core::PackageLabelText>(text).signed_part + "0123456789ABC";
}

}  // namespace

TEST_CASE("A package counts once however often it is seen, and is present where it is expected") {
  AuditScene scene;
  const auto packages = scene.shelved(2);
  PlayedShelf shelf;
  for (int frame = 0; frame < 5; ++frame) shelf.show({packages[0].payload});
  shelf.show({packages[0].payload, packages[1].payload});
  const auto reply = scene.audit(shelf);
  REQUIRE(reply.packages.size() == 2);
  const auto& line = line_of(reply, packages[0]);
  CHECK(line.reply.verdict.outcome() == Outcome::Clear);
  CHECK(line.status == AuditStatus::Present);
  CHECK(line.how == SeenHow::Read);
  CHECK(line.sightings == 6);
  CHECK(line.first_frame == 1);
  CHECK(line_of(reply, packages[1]).first_frame == 6);
  CHECK(reply.not_seen.empty());
  CHECK(reply.frames == 6);
  CHECK_FALSE(reply.interrupted);
}

TEST_CASE("What is expected and was not seen is listed, the oldest first") {
  AuditScene scene;
  const auto older = scene.shelved(1);
  scene.office.clock.turn_days(3);
  const auto newer = scene.shelved(2);
  PlayedShelf shelf;
  shelf.show({newer[0].payload});
  const auto reply = scene.audit(shelf);
  REQUIRE(reply.not_seen.size() == 2);
  CHECK(reply.not_seen[0].package.id == older[0].id);
  CHECK(reply.not_seen[1].package.id == newer[1].id);
  CHECK(reply.not_seen[0].contents_name == "Exam set");
}

TEST_CASE("Neither an opened nor a withdrawn nor a recalled package is missed") {
  AuditScene scene;
  const auto packages = scene.shelved(2);
  must(scene.office.open(packages[0]));
  must(
      app::withdraw_package(scene.office.ports(), {"CD", packages[1].id.text(), core::WithdrawReason::Torn}));
  const auto recalled = scene.shelved(1);
  must(app::recall_load(scene.office.ports(), {"AB", recalled[0].load, "door seal"}));
  PlayedShelf shelf;
  shelf.show({});
  CHECK(scene.audit(shelf).not_seen.empty());
}

TEST_CASE("A package of another shelf is misplaced, a withdrawn one that is still here unexpected") {
  AuditScene scene;
  const auto here = scene.shelved(1), there = scene.shelved(1, "SHELF2");
  must(app::withdraw_package(scene.office.ports(), {"CD", here[0].id.text(), core::WithdrawReason::Torn}));
  PlayedShelf shelf;
  shelf.show({here[0].payload, there[0].payload});
  const auto reply = scene.audit(shelf);
  CHECK(line_of(reply, there[0]).status == AuditStatus::Misplaced);
  CHECK(line_of(reply, there[0]).expected_at == "SHELF2");
  CHECK(line_of(reply, here[0]).status == AuditStatus::Unexpected);
  CHECK(line_of(reply, here[0]).reply.verdict.outcome() == Outcome::DoNotUse);
  CHECK(has(line_of(reply, here[0]), Reason::Withdrawn));
}

TEST_CASE("Shelf tags place what is first seen after them, by frame and in reading order") {
  AuditScene scene;
  const auto first = scene.shelved(2), second = scene.shelved(2, "SHELF2");
  PlayedShelf shelf;
  shelf.show({first[0].payload});
  shelf.show({first[0].payload, first[1].payload, scene.tag("SHELF2"), second[0].payload});
  shelf.show({second[1].payload, first[0].payload});
  const auto reply = scene.audit(shelf);
  for (const auto& package : reply.packages) CHECK(package.status == AuditStatus::Present);
  CHECK(line_of(reply, second[1]).seen_at == "SHELF2");
  CHECK(line_of(reply, first[0]).seen_at == "SHELF1");
  CHECK(reply.swept == std::vector<std::string>{"SHELF1", "SHELF2"});
}

TEST_CASE("A shelf whose tag was seen is searched for what it misses, and a stranger's tag says nothing") {
  AuditScene scene;
  const auto missing = scene.shelved(1, "SHELF2");
  PlayedShelf shelf;
  shelf.show({core::unsigned_shelf_tag("SHELF2") + "0123456789ABC"});
  const auto stranger = scene.audit(shelf);
  CHECK(stranger.not_seen.empty());
  CHECK(stranger.other_symbols == 1);
  shelf.show({scene.tag("SHELF2")});
  REQUIRE(scene.audit(shelf).not_seen.size() == 1);
}

TEST_CASE(
    "A label of another office is not to be used, expected nowhere, and does not count as its namesake") {
  AuditScene scene;
  const auto packages = scene.shelved(1);
  PlayedShelf shelf;
  shelf.show({forged(packages[0])});
  const auto reply = scene.audit(shelf);
  REQUIRE(reply.packages.size() == 1);
  CHECK(reply.packages[0].status == AuditStatus::Unexpected);
  CHECK(reply.packages[0].reply.verdict.reasons() == std::vector<Reason>{Reason::LabelNotAuthentic});
  REQUIRE(reply.not_seen.size() == 1);
  CHECK(reply.not_seen[0].package.id == packages[0].id);
}

TEST_CASE("A chart copy holds in a line of its own, and strangers' symbols and badges are counted") {
  AuditScene scene;
  PlayedShelf shelf;
  const std::string badge = core::unsigned_badge("CD") + "0123456789ABC";
  shelf.show({"LLC1.SOMETHING", "https://example.org/", badge});
  shelf.show({"https://example.org/"});
  const auto reply = scene.audit(shelf);
  REQUIRE(reply.packages.size() == 1);
  CHECK(has(reply.packages[0], Reason::ChartCopy));
  CHECK(reply.packages[0].reply.verdict.outcome() == Outcome::Hold);
  CHECK(reply.other_symbols == 2);
}

TEST_CASE("No more of a text that is no package's label than its beginning comes into the ledger") {
  AuditScene scene;
  PlayedShelf shelf;
  shelf.show({"LLC1.SOMEBODY BORN 1970", "PATIENT 12"});
  const auto reply = scene.audit(shelf);
  for (const auto& event : scene.events(reply.audit, EventKind::PackagesSeen)) {
    for (const auto& [key, value] : event.details) {
      CAPTURE(key, value);
      CHECK(value.find("BORN") == std::string::npos);
      CHECK(value.find("PATIENT") == std::string::npos);
    }
  }
}

TEST_CASE("An old label on a package holds it though only one frame shows both") {
  AuditScene scene;
  const auto packages = scene.shelved(1);
  const auto old = scene.office.print({"S1", 2}).front();
  PlayedShelf shelf;
  shelf.show({packages[0].payload});
  shelf.show({packages[0].payload}).symbols.push_back({old.payload, square(70, 10)});
  shelf.show({packages[0].payload});
  const auto reply = scene.audit(shelf);
  CHECK(has(line_of(reply, packages[0]), Reason::OldLabelInView));
  CHECK(line_of(reply, packages[0]).reply.verdict.outcome() == Outcome::Hold);
}

TEST_CASE("Where a label's reach cannot be told the packages beside it hold until a frame settles it") {
  AuditScene scene;
  const auto packages = scene.shelved(2);
  PlayedShelf shelf;
  port::Corners none{};  // span no plane
  shelf.show({packages[0].payload}).symbols.push_back({packages[1].payload, none});
  CHECK(line_of(scene.audit(shelf), packages[0]).reply.verdict.outcome() == Outcome::Hold);
  shelf.show({packages[0].payload, packages[1].payload});
  CHECK(line_of(scene.audit(shelf), packages[0]).reply.verdict.outcome() == Outcome::Clear);
}

TEST_CASE("A recall during the sweep shows in the verdict at its end") {
  AuditScene scene;
  const auto packages = scene.shelved(1);
  PlayedShelf shelf;
  shelf.show({packages[0].payload});
  shelf.show({});
  auto request = scene.request();
  std::vector<Outcome> live;
  request.saw = [&](const app::AuditedPackage& package) {
    live.push_back(package.reply.verdict.outcome());
    must(app::recall_load(scene.office.ports(), {"AB", packages[0].load, "door seal"}));
  };
  const auto reply = scene.audit(shelf, request);
  CHECK(live == std::vector<Outcome>{Outcome::Clear});
  CHECK(reply.packages[0].reply.verdict.outcome() == Outcome::DoNotUse);
  CHECK(reply.packages[0].status == AuditStatus::Unexpected);
}

TEST_CASE("A package told by the record counts, and is never Clear") {
  AuditScene scene;
  const auto packages = scene.shelved(2);
  PlayedShelf shelf;
  shelf.show({packages[0].payload}).lost.push_back(lost_place(7, 1));
  PlayedReader reader{shelf};
  PlayedFrames frames{shelf};
  reader.matches[7] = {1, 8, 20, {}};
  const auto reply = scene.audit(reader, frames, scene.request());
  const auto& line = line_of(reply, packages[1]);
  CHECK(line.how == SeenHow::Matched);
  CHECK(line.status == AuditStatus::Present);
  CHECK(line.reply.verdict.reasons() == std::vector<Reason>{Reason::LabelNotRead});
  CHECK(line.reply.verdict.outcome() == Outcome::Hold);
  CHECK(reply.not_seen.empty());
  CHECK(reply.unreadable.empty());
}

TEST_CASE("What is not overwhelmingly likely stays unreadable, with its picture and where it was") {
  AuditScene scene;
  scene.shelved(1);
  PlayedShelf shelf;
  shelf.show({}).lost = {lost_place(7, 1), lost_place(8, 1), lost_place(9, 1)};
  PlayedReader reader{shelf};
  PlayedFrames frames{shelf};
  reader.matches[7] = {0, core::kMatchOverSecond - 0.1, 90, {}};
  reader.matches[8] = {0, 90, core::kMatchOverChance - 0.1, {}};
  const auto reply = scene.audit(reader, frames, scene.request());
  CHECK(reply.packages.empty());
  CHECK(reply.not_seen.size() == 1);
  REQUIRE(reply.unreadable.size() == 3);
  CHECK(reply.unreadable[0].frame == 1);
  CHECK(reply.unreadable[0].jpeg == "jpeg 20x20 at most 480");
}

TEST_CASE("A place that turns out to be a label read elsewhere is one more sighting, not a second package") {
  AuditScene scene;
  const auto packages = scene.shelved(1);
  PlayedShelf shelf;
  shelf.show({packages[0].payload}).lost.push_back(lost_place(7, 1));
  PlayedReader reader{shelf};
  PlayedFrames frames{shelf};
  reader.matches[7] = {0, std::numeric_limits<double>::infinity(), 20, {}};
  const auto reply = scene.audit(reader, frames, scene.request());
  REQUIRE(reply.packages.size() == 1);
  CHECK(reply.packages[0].how == SeenHow::Read);
  CHECK(reply.packages[0].sightings == 2);
  CHECK(reply.unreadable.empty());
}

TEST_CASE("Lost places beyond what memory bounds are counted") {
  AuditScene scene;
  PlayedShelf shelf;
  shelf.show({}).lost = std::vector<port::LostPlace>(350, lost_place(7, 1));
  const auto reply = scene.audit(shelf);
  CHECK(reply.unreadable.size() == 300);
  CHECK(reply.unreadable_beyond == 50);
}

TEST_CASE("Photographs are read whole, with full effort, and their unread places cut out") {
  AuditScene scene;
  const auto packages = scene.shelved(1);
  PlayedShelf shelf;
  auto& photo = shelf.show({packages[0].payload});
  photo.apart = true;
  photo.unread = {square(300, 300, 40)};
  PlayedReader reader{shelf};
  PlayedFrames frames{shelf};
  const auto reply = scene.audit(reader, frames, scene.request());
  CHECK(reader.efforts == std::vector<port::Effort>{port::Effort::Full});
  CHECK(reply.packages[0].first_file == "photo-1.jpg");
  REQUIRE(reply.unreadable.size() == 1);
  CHECK(reply.unreadable[0].jpeg == "jpeg 80x80 at most 480");
  CHECK(reply.unreadable[0].file == "photo-1.jpg");
}

TEST_CASE("An audit moves no package and accounts for none") {
  AuditScene scene;
  const auto packages = scene.shelved(2);
  PlayedShelf shelf;
  shelf.show({packages[0].payload, scene.tag("SHELF2"), packages[1].payload});
  scene.audit(shelf);
  for (const auto& package : packages) CHECK(scene.office.now(package) == package);
}

}  // namespace loadlight::tests
