#include "app/office_at_work.h"

#include "loadlight/app/accept_clock.h"

namespace loadlight::tests {
namespace {

using core::FailureCode;
using core::LoadName;
using core::Note;
using core::Outcome;
using core::Reason;

const LoadName kLoad{"S1", 1};

void require_reasons(const app::CheckReply& reply, std::vector<Reason> reasons) {
  std::string found;
  for (Reason reason : reply.verdict.reasons()) found += std::string{core::to_text(reason)} + " ";
  INFO("found " << found);
  REQUIRE(reply.verdict.reasons() == reasons);
}

bool has_note(const app::CheckReply& reply, Note note) {
  for (Note each : reply.verdict.notes()) {
    if (each == note) return true;
  }
  return false;
}

// A label of this office's form with these fields, signed by a key.
std::string signed_label(const PlainKeyring& keyring, core::LabelForm form, const core::Package& package,
                         const core::LoadName& load) {
  std::string text = core::unsigned_payload(form, {package.id, load, package.process_date, package.use_by,
                                                   package.operator_code, package.contents, package.kind});
  return text + keyring.mac(text);
}

}  // namespace

TEST_CASE("A package is judged at every step of its life", "[R38]") {
  OfficeAtWork office;
  const core::Package package = office.print(kLoad).front();
  require_reasons(office.check(package.payload), {Reason::NeverInALoad});
  must(app::open_load(office.ports(), {"CD", "S1", "dynamic-132-wrapped", core::LoadPurpose::Process, 1, {}}));
  must(app::add_to_load(office.ports(), {"CD", kLoad, {package.id.text()}, {}}));
  require_reasons(office.check(package.payload), {Reason::LoadNotStarted});
  must(app::start_load(office.ports(), {"CD", kLoad}));
  require_reasons(office.check(package.payload), {Reason::LoadRunning});
  office.finish(kLoad);
  require_reasons(office.check(package.payload), {Reason::LoadNotReleased});
  office.give_evidence(kLoad);
  require_reasons(office.check(package.payload), {Reason::LoadNotReleased});
  office.release(kLoad);
  require_reasons(office.check(package.payload), {});
  REQUIRE(office.check(package.payload).verdict.outcome() == Outcome::Clear);
  must(office.open(package));
  require_reasons(office.check(package.payload), {Reason::AlreadyOpened});
  must(app::recall_load(office.ports(), {"AB", kLoad, "door seal"}));
  require_reasons(office.check(package.payload), {Reason::LoadRecalled, Reason::AlreadyOpened});
}

TEST_CASE("A load that runs longer than its program can is overdue") {
  OfficeAtWork office;
  const auto packages = office.print(kLoad);
  office.start(kLoad, packages);
  office.clock.turn(std::chrono::minutes{150});
  require_reasons(office.check(packages.front().payload), {Reason::LoadRunning});
  office.clock.turn(std::chrono::minutes{1});
  require_reasons(office.check(packages.front().payload), {Reason::LoadOverdue, Reason::LoadRunning});
}

TEST_CASE("A clear answer still asks for the eyes and tells what the record knows", "[R39]") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  const app::CheckReply reply = office.check(package.payload);
  REQUIRE(has_note(reply, Note::CheckWithEyes));
  REQUIRE(reply.package == package.id.text());
  REQUIRE(reply.load == kLoad);
  REQUIRE(reply.contents == "EXAM");
  REQUIRE(reply.contents_name == "Exam set");
  REQUIRE(reply.process_date == package.process_date);
  REQUIRE(reply.use_by == package.process_date.plus_days(180));
  REQUIRE(office.newest_event_kind() == "package-checked");
}

TEST_CASE("A package can be used on its last day and not on the day after", "[R40]") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  office.clock.turn_days(180);
  REQUIRE(office.check(package.payload).verdict.outcome() == Outcome::Clear);
  REQUIRE(has_note(office.check(package.payload), Note::NearUseBy));
  office.clock.turn_days(1);
  require_reasons(office.check(package.payload), {Reason::PastUseBy});
}

// HTM 01-05 (2013) 2.4k(i): wrapped up to one year.
TEST_CASE("Under the UK profile even a package without a use-by day lasts a year", "[R40]") {
  OfficeAtWork office{"uk", std::nullopt};
  const core::Package package = office.released_package();
  REQUIRE_FALSE(package.use_by);
  office.clock.turn_days(365);
  REQUIRE(office.check(package.payload).verdict.outcome() == Outcome::Clear);
  office.clock.turn_days(1);
  require_reasons(office.check(package.payload), {Reason::PastUseBy});
}

TEST_CASE("A typed id is judged like its label and asks to compare by eye") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  const app::CheckReply reply = office.check_typed(package.id.grouped());
  REQUIRE(reply.verdict.outcome() == Outcome::Clear);
  REQUIRE(has_note(reply, Note::CompareByEye));
}

TEST_CASE("What is not a package's own label never clears it") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  require_reasons(office.check(""), {Reason::NotAPackageLabel});
  require_reasons(office.check("https://example.org/"), {Reason::NotAPackageLabel});
  require_reasons(office.check(package.id.text()), {Reason::NotAPackageLabel});
  require_reasons(office.check_typed(package.payload), {Reason::NotAPackageLabel});
  require_reasons(office.check("LL2." + package.payload.substr(4)), {Reason::LabelVersionUnknown});
  require_reasons(office.check(signed_label(office.keyring, core::LabelForm::ChartCopy, package, kLoad)),
                  {Reason::ChartCopy});
}

TEST_CASE("A label that another key signed is not authentic and shows nothing of the record") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  office.clock.turn_days(170);  // near the use-by day of the package whose id it borrows
  const PlainKeyring stranger{"another key"};
  const auto reply = office.check(signed_label(stranger, core::LabelForm::Package, package, kLoad));
  require_reasons(reply, {Reason::LabelNotAuthentic});
  REQUIRE_FALSE(reply.load);
  REQUIRE(reply.contents.empty());
  REQUIRE(reply.verdict.notes().empty());
}

TEST_CASE("After a change of keys the labels of the old key still clear") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  office.keyring.change_key("second key");
  REQUIRE(office.check(package.payload).verdict.outcome() == Outcome::Clear);
}

TEST_CASE("An authentic label that says something else than was issued is refused") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  const auto text = signed_label(office.keyring, core::LabelForm::Package, package, {"S1", 2});
  require_reasons(office.check(text), {Reason::LabelRecordMismatch});
}

TEST_CASE("An authentic label of a package that is not in the record is refused") {
  OfficeAtWork office;
  core::Package package = office.released_package();
  package.id = OfficeAtWork{}.print({"S2", 1}, 3).back().id;
  require_reasons(office.check(signed_label(office.keyring, core::LabelForm::Package, package, kLoad)),
                  {Reason::PackageUnknown});
}

TEST_CASE("No items are one answer, and every item has an answer and an event of its own") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  REQUIRE(app::check_packages(office.ports(), {}).size() == 1);
  const std::size_t before = office.ledger_size();
  app::CheckRequest request;
  request.items = {{app::CheckItem::How::Symbol, package.payload, {}},
                   {app::CheckItem::How::Symbol, "nothing of ours", {}}};
  const auto replies = app::check_packages(office.ports(), request);
  REQUIRE(replies[0].verdict.outcome() == Outcome::Clear);
  require_reasons(replies[1], {Reason::NotAPackageLabel});
  REQUIRE(office.ledger_size() == before + 2);
}

TEST_CASE("Whichever call of the store fails, a check never clears, and it is whole or leaves no trace") {
  OfficeAtWork whole;
  const core::Package package = whole.released_package();
  whole.store.break_call(0, broken_store());
  REQUIRE(whole.check(package.payload).verdict.outcome() == Outcome::Clear);
  const int calls = whole.store.calls();
  REQUIRE(calls > 8);
  for (FailureCode code : {FailureCode::RecordDamaged, FailureCode::OfficeBusy, FailureCode::DiskFull}) {
    for (int nth = 1; nth <= calls; ++nth) {
      OfficeAtWork office;
      const core::Package same = office.released_package();
      const std::size_t before = office.ledger_size();
      office.store.break_call(nth, {code, {}, {}});
      const app::CheckReply reply = office.check(same.payload);
      CAPTURE(nth, core::to_text(code));
      CHECK(reply.verdict.outcome() == Outcome::Hold);
      CHECK(office.ledger_size() <= before + 1);
      CHECK(office.check(same.payload).verdict.outcome() == Outcome::Clear);
    }
  }
}

// Two labels of the roll stock, 57 mm wide, whose symbols do not touch though the labels do.
app::CheckRequest two_labels_on_one_package(const OfficeAtWork& office,
                                            const std::vector<core::Package>& packages) {
  app::CheckRequest request;
  const auto square = [](double x) {
    return label::Quad{label::Point{x, 0}, {x + 100, 0}, {x + 100, 100}, {x, 100}};
  };
  request.items = {{app::CheckItem::How::Symbol, packages[0].payload, square(0)},
                   {app::CheckItem::How::Symbol, packages[1].payload, square(180)}};
  request.find_template = office.shop().find_template;
  return request;
}

TEST_CASE("Two labels that lie on one another hold both packages, and nothing clears when the store fails") {
  OfficeAtWork whole;
  const LoadName load{"S1", 1};
  const auto ready = [&load](OfficeAtWork& office) {
    const auto packages = office.print(load, 2);
    office.start(load, packages);
    office.finish(load);
    office.give_evidence(load);
    office.release(load);
    return two_labels_on_one_package(office, packages);
  };
  const auto request = ready(whole);
  whole.store.break_call(0, broken_store());
  for (const auto& reply : app::check_packages(whole.ports(), request)) {
    require_reasons(reply, {Reason::OldLabelInView});
  }
  const int calls = whole.store.calls();
  for (int nth = 1; nth <= calls; ++nth) {
    OfficeAtWork office;
    const auto same = ready(office);
    office.store.break_call(nth, broken_store());
    CAPTURE(nth);
    for (const auto& reply : app::check_packages(office.ports(), same)) {
      CHECK(reply.verdict.outcome() == Outcome::Hold);
    }
  }
}

TEST_CASE("Two labels of which nobody can tell how far they reach hold both packages") {
  OfficeAtWork office;
  const auto packages = office.print(kLoad, 2);
  office.start(kLoad, packages);
  office.finish(kLoad);
  office.give_evidence(kLoad);
  office.release(kLoad);
  auto request = two_labels_on_one_package(office, packages);
  for (label::Point& corner : *request.items[1].corners) corner.x += 10000;  // side by side
  for (const auto& reply : app::check_packages(office.ports(), request)) require_reasons(reply, {});
  request.find_template = [](std::string_view) {
    return core::Failure{FailureCode::TemplateUnknown, {}, {}};
  };
  for (const auto& reply : app::check_packages(office.ports(), request)) {
    require_reasons(reply, {Reason::RecordDamaged});
  }
}

TEST_CASE("Without a record everything holds, whatever the label says", "[R42]") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  for (auto [state, reason] : {std::pair{core::RecordState::Unreachable, Reason::RecordUnreachable},
                               std::pair{core::RecordState::Damaged, Reason::RecordDamaged}}) {
    app::CheckRequest request;
    request.items = {{app::CheckItem::How::Symbol, package.payload, {}}};
    const auto replies = app::check_without_record(state, request);
    REQUIRE(replies.size() == 1);
    require_reasons(replies.front(), {reason});
    REQUIRE_FALSE(replies.front().load);
    REQUIRE(app::check_without_record(state, {}).size() == 1);
  }
}

TEST_CASE("A clock behind the record holds until the lead takes it as right") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  office.clock.turn(std::chrono::minutes{-15});
  REQUIRE(office.check(package.payload).verdict.outcome() == Outcome::Clear);
  office.clock.turn(std::chrono::minutes{-1});
  require_reasons(office.check(package.payload), {Reason::ClockBehindRecord});
  REQUIRE(code_of(app::accept_clock(office.ports(), {"CD", "battery"})) == "lead-required");
  REQUIRE(code_of(app::accept_clock(office.ports(), {"AB", ""})) == "reason-missing");
  require_reasons(office.check(package.payload), {Reason::ClockBehindRecord});
  REQUIRE(must(app::accept_clock(office.ports(), {"AB", "battery"})) == 16 * 60 * 1000);
  REQUIRE(office.check(package.payload).verdict.outcome() == Outcome::Clear);
}

}  // namespace loadlight::tests
