// What an audit leaves in the ledger, how it is gone on with, and what it keeps when something fails.
#include "app/audit_scene.h"

namespace loadlight::tests {
namespace {

using core::AuditStatus;
using core::EventKind;
using core::Outcome;
using core::Reason;
using core::SeenHow;

// Stops after this frame.
app::AuditRequest stopping_after(const AuditScene& scene, int frame) {
  app::AuditRequest request = scene.request();
  request.tell = [frame](const app::AuditProgress& progress) {
    return progress.frame == frame ? app::AuditStep::Interrupt : app::AuditStep::GoOn;
  };
  return request;
}

PlayedShelf shelf_of(const std::vector<core::Package>& packages) {
  PlayedShelf shelf;
  for (const core::Package& package : packages) shelf.show({package.payload});
  return shelf;
}

std::size_t count_clear(const app::AuditReply& reply) {
  std::size_t clear = 0;
  for (const auto& package : reply.packages) clear += package.reply.verdict.outcome() == Outcome::Clear;
  return clear;
}

}  // namespace

TEST_CASE("An audit begins, sees and ends in the ledger, under a name of its own") {
  AuditScene scene;
  const auto packages = scene.shelved(3);
  const PlayedShelf shelf = shelf_of(packages);
  CHECK(scene.audit(shelf).audit == "SHELF1-1");
  CHECK(scene.audit(shelf).audit == "SHELF1-2");
  CHECK(scene.events("SHELF1", EventKind::AuditBegun).size() == 2);
  CHECK(scene.events("SHELF1-1", EventKind::AuditEnded).size() == 1);
  std::size_t seen = 0;
  for (const auto& event : scene.events("SHELF1-1", EventKind::PackagesSeen)) {
    for (const auto& [key, value] : event.details) seen += key == "label";
  }
  CHECK(seen == 3);
}

TEST_CASE("An interrupted audit keeps what it saw and goes on where it stopped") {
  AuditScene scene;
  const auto packages = scene.shelved(4);
  const PlayedShelf shelf = shelf_of(packages);
  const auto part = scene.audit(shelf, stopping_after(scene, 2));
  CHECK(part.interrupted);
  CHECK_FALSE(part.trouble);
  CHECK(part.packages.size() == 2);
  CHECK(scene.events(part.audit, EventKind::AuditEnded).empty());
  PlayedReader reader{shelf};
  PlayedFrames frames{shelf};
  const auto whole = scene.audit(reader, frames, scene.request(true));
  CHECK(whole.audit == part.audit);
  CHECK(frames.given == 2);
  CHECK(whole.packages.size() == 4);
  CHECK(count_clear(whole) == 4);
  CHECK(line_of(whole, packages[0]).first_frame == 1);
  CHECK(line_of(whole, packages[0]).sightings == 1);
  CHECK(line_of(whole, packages[0]).corners[2].x == Approx(110));
  CHECK_FALSE(whole.interrupted);
  CHECK(scene.events(part.audit, EventKind::AuditEnded).size() == 1);
}

TEST_CASE("Packages of an earlier part are judged anew when the audit goes on") {
  AuditScene scene;
  const auto packages = scene.shelved(2);
  const PlayedShelf shelf = shelf_of(packages);
  scene.audit(shelf, stopping_after(scene, 1));
  must(
      app::withdraw_package(scene.office.ports(), {"CD", packages[0].id.text(), core::WithdrawReason::Torn}));
  const auto whole = scene.audit(shelf, scene.request(true));
  CHECK(has(line_of(whole, packages[0]), Reason::Withdrawn));
  CHECK(line_of(whole, packages[0]).status == AuditStatus::Unexpected);
}

TEST_CASE("An old label of an earlier part still holds its package when the audit goes on") {
  AuditScene scene;
  const auto packages = scene.shelved(2);
  const auto old = scene.office.print({"S1", 2}).front();
  PlayedShelf shelf;
  shelf.show({packages[0].payload}).symbols.push_back({old.payload, square(70, 10)});
  shelf.show({packages[1].payload});
  scene.audit(shelf, stopping_after(scene, 1));
  CHECK(has(line_of(scene.audit(shelf, scene.request(true)), packages[0]), Reason::OldLabelInView));
}

TEST_CASE("A package that an earlier part only told by the record stays so until it is read") {
  AuditScene scene;
  const auto packages = scene.shelved(2);
  PlayedShelf shelf;
  shelf.show({}).lost.push_back(lost_place(7, 1));
  shelf.show({packages[1].payload});
  {
    PlayedReader reader{shelf};
    PlayedFrames frames{shelf};
    reader.matches[7] = {0, 8, 20, {}};
    scene.audit(reader, frames, stopping_after(scene, 1));
  }
  const auto told = scene.audit(shelf, [&] {
    auto request = stopping_after(scene, 2);
    request.resume = true;
    return request;
  }());
  CHECK(line_of(told, packages[0]).how == SeenHow::Matched);
  CHECK(line_of(told, packages[0]).reply.verdict.outcome() == Outcome::Hold);
  shelf.show({packages[0].payload});
  const auto read = scene.audit(shelf, scene.request(true));
  CHECK(line_of(read, packages[0]).how == SeenHow::Read);
  CHECK(line_of(read, packages[0]).reply.verdict.outcome() == Outcome::Clear);
  CHECK(read.packages.size() == 2);
}

TEST_CASE("The shelf of the last tag is remembered when an audit goes on") {
  AuditScene scene;
  const auto packages = scene.shelved(1, "SHELF2");
  PlayedShelf shelf;
  shelf.show({scene.tag("SHELF2")});
  shelf.show({packages[0].payload});
  scene.audit(shelf, stopping_after(scene, 1));
  const auto whole = scene.audit(shelf, scene.request(true));
  CHECK(line_of(whole, packages[0]).status == AuditStatus::Present);
  CHECK(whole.swept == std::vector<std::string>{"SHELF1", "SHELF2"});
}

TEST_CASE("There is nothing to go on with after an audit ended, of another source or of another shelf") {
  AuditScene scene;
  const PlayedShelf shelf = shelf_of(scene.shelved(1));
  const auto resume = [&](const app::AuditRequest& request) {
    PlayedReader reader{shelf};
    PlayedFrames frames{shelf};
    PlainPictures pictures;
    return code_of(
        app::audit_shelf(scene.office.ports(), {reader, pictures, scene.office.encoder}, frames, request));
  };
  CHECK(resume(scene.request(true)) == "audit-unknown");
  scene.audit(shelf);
  CHECK(resume(scene.request(true)) == "audit-unknown");
  scene.audit(shelf, stopping_after(scene, 1));
  auto other = scene.request(true);
  other.source = "other.mp4";
  CHECK(resume(other) == "audit-unknown");
  other = scene.request(true);
  other.location = "SHELF2";
  CHECK(resume(other) == "audit-unknown");
  CHECK(resume(scene.request(true)) == "ok");
}

TEST_CASE("Nothing is begun without an operator or at a location that the office has not") {
  AuditScene scene;
  const PlayedShelf shelf = shelf_of(scene.shelved(1));
  PlayedReader reader{shelf};
  PlayedFrames frames{shelf};
  PlainPictures pictures;
  const auto before = scene.office.ledger_size();
  auto request = scene.request();
  const auto code = [&] {
    return code_of(
        app::audit_shelf(scene.office.ports(), {reader, pictures, scene.office.encoder}, frames, request));
  };
  request.location = "NOWHERE";
  CHECK(code() == "code-unknown");
  request = scene.request();
  request.operator_code = "ZZ";
  CHECK(code() == "operator-unknown");
  request.operator_code = "";
  CHECK(code() == "operator-missing");
  CHECK(scene.office.ledger_size() == before);
  CHECK(frames.given == 0);
}

TEST_CASE("Two audits of one shelf at once keep to themselves, and both hold") {
  AuditScene scene;
  const auto packages = scene.shelved(2);
  const PlayedShelf shelf = shelf_of(packages);
  app::AuditReply second;
  auto request = scene.request();
  request.tell = [&](const app::AuditProgress& progress) {
    if (progress.frame == 1) second = scene.audit(shelf);
    return app::AuditStep::GoOn;
  };
  const auto first = scene.audit(shelf, request);
  CHECK(first.audit != second.audit);
  CHECK(count_clear(first) == 2);
  CHECK(count_clear(second) == 2);
  CHECK(scene.events(first.audit, EventKind::AuditEnded).size() == 1);
  CHECK(scene.events(second.audit, EventKind::AuditEnded).size() == 1);
}

TEST_CASE(
    "A camera that is unplugged and a video that is cut off leave what was seen, and may be gone on with") {
  for (const auto code : {core::FailureCode::CameraUnavailable, core::FailureCode::VideoCutOff}) {
    AuditScene scene;
    const auto packages = scene.shelved(3);
    const PlayedShelf shelf = shelf_of(packages);
    PlayedReader reader{shelf};
    PlayedFrames frames{shelf};
    frames.breaks_after = 2;
    frames.breaks_with = code;
    const auto reply = scene.audit(reader, frames, scene.request());
    CHECK(reply.interrupted);
    REQUIRE(reply.trouble);
    CHECK(reply.trouble->code == code);
    CHECK(count_clear(reply) == 2);
    CHECK(reply.not_seen.size() == 1);
    CHECK(scene.events(reply.audit, EventKind::AuditEnded).empty());
    CHECK(scene.audit(shelf, scene.request(true)).packages.size() == 3);
  }
}

TEST_CASE("Whoever sweeps may say that the sweep is over") {
  AuditScene scene;
  const PlayedShelf shelf = shelf_of(scene.shelved(3));
  auto request = scene.request();
  request.tell = [](const app::AuditProgress& progress) {
    return progress.frame == 2 ? app::AuditStep::Finish : app::AuditStep::GoOn;
  };
  const auto reply = scene.audit(shelf, request);
  CHECK_FALSE(reply.interrupted);
  CHECK(reply.packages.size() == 2);
  CHECK(scene.events(reply.audit, EventKind::AuditEnded).size() == 1);
}

TEST_CASE("Whichever call of the store fails, no package is Clear that left no trace") {
  int calls = 1;
  for (int nth = 0; nth <= calls; ++nth) {
    AuditScene scene;
    const auto packages = scene.shelved(2);
    const PlayedShelf shelf = shelf_of(packages);
    PlayedReader reader{shelf};
    PlayedFrames frames{shelf};
    PlainPictures pictures;
    scene.office.store.break_call(nth, broken_store());
    const auto reply = app::audit_shelf(scene.office.ports(), {reader, pictures, scene.office.encoder},
                                        frames, scene.request());
    if (nth == 0) calls = scene.office.store.calls();
    CAPTURE(nth, calls);
    if (!reply) continue;
    std::map<std::string, std::string> written;  // outcomes by label
    for (const auto& event : scene.events(reply->audit, EventKind::PackagesSeen)) {
      std::map<std::string, std::string> details{event.details.begin(), event.details.end()};
      if (details.count("label") > 0) written[details["label"]] = details["outcome"];
    }
    for (const auto& package : reply->packages) {
      if (package.reply.verdict.outcome() != Outcome::Clear) continue;
      CHECK(written[package.reply.read] == "clear");
    }
    const bool ended = !scene.events(reply->audit, EventKind::AuditEnded).empty();
    CHECK(ended == !reply->interrupted);
    if (nth == 0) CHECK(count_clear(*reply) == 2);
  }
}

TEST_CASE("Progress tells how far it is, how long it takes and what to do better") {
  AuditScene scene;
  const auto packages = scene.shelved(1);
  PlayedShelf shelf;
  for (int frame = 0; frame < 4; ++frame) shelf.show({packages[0].payload});
  shelf.frames[1].shift_x = 50;
  shelf.frames[2].module = 1;
  shelf.frames[3].brightness = 10;
  std::vector<app::AuditProgress> told;
  auto request = scene.request();
  request.tell = [&](const app::AuditProgress& progress) {
    told.push_back(progress);
    scene.office.clock.turn(std::chrono::minutes{1});
    return app::AuditStep::GoOn;
  };
  scene.audit(shelf, request);
  REQUIRE(told.size() == 4);
  CHECK(told[0].hints.empty());
  CHECK(told[1].hints == std::vector{core::SweepHint::TooFast});
  CHECK(told[1].seconds_left == Approx(60));
  CHECK(told[2].hints == std::vector{core::SweepHint::TooFar});
  REQUIRE(told[2].usable_width);
  CHECK(*told[2].usable_width > 100);
  CHECK(*told[2].usable_width < 1000);
  CHECK(told[3].hints == std::vector{core::SweepHint::TooDark});
  CHECK(told[3].seconds_left == 0);
  CHECK(told[3].packages == 1);
}

TEST_CASE("A picture is kept whenever the scene moved on by most of a frame, with its labels marked") {
  AuditScene scene;
  const auto packages = scene.shelved(2);
  PlayedShelf shelf;
  for (int frame = 0; frame < 4; ++frame) {
    auto& played = shelf.show({});
    played.shift_x = frame == 0 ? 0 : 300;
  }
  shelf.frames[1].symbols = {{packages[0].payload, square(500, 100)}};
  shelf.frames[3].symbols = {{packages[1].payload, square(20, 100)}};
  const auto reply = scene.audit(shelf);
  REQUIRE(reply.pictures.size() == 2);
  CHECK(reply.pictures[0].frame == 1);
  CHECK(reply.pictures[1].frame == 4);
  REQUIRE(reply.pictures[0].marks.size() == 1);
  CHECK(reply.pictures[0].marks[0].corners[0].x == Approx(200));  // where it lay in frame 1
  REQUIRE(reply.pictures[1].marks.size() == 1);
  CHECK(reply.pictures[1].marks[0].package == 1);
}

TEST_CASE("However long the sweep, its pictures stay within their bound") {
  AuditScene scene;
  const auto package = scene.shelved(1).front();
  PlayedShelf shelf;
  for (int frame = 0; frame < 300; ++frame) shelf.show({package.payload}).shift_x = 900;
  CHECK(scene.audit(shelf).pictures.size() == 120);
}

TEST_CASE("A piece of shelf without a label is no picture of the report") {
  AuditScene scene;
  const auto package = scene.shelved(1).front();
  PlayedShelf shelf;
  for (int frame = 0; frame < 300; ++frame) shelf.show({}).shift_x = 900;
  shelf.frames[200].symbols = {{package.payload, square(100, 100)}};
  const auto reply = scene.audit(shelf);
  REQUIRE(reply.pictures.size() == 1);
  CHECK(reply.pictures[0].frame == 201);
}

}  // namespace loadlight::tests
