#include "app/office_at_work.h"

#include <set>

#include "loadlight/app/change_labels.h"
#include "loadlight/app/office_tables.h"

namespace loadlight::tests {
namespace {

using core::LoadName;
using core::LoadState;
using core::PackageState;

const LoadName kLoad{"S1", 1};

core::Result<app::PrintReply> print(OfficeAtWork& office, const app::PrintRequest& request) {
  return app::print_labels(office.ports(), office.shop(), request);
}

app::ReplaceRequest replacement(const core::Package& old) {
  app::ReplaceRequest request;
  request.operator_code = "CD";
  request.package = old.id.text();
  request.paper.out = "replacement.pdf";
  return request;
}

core::Result<app::PrintReply> replace(OfficeAtWork& office, const app::ReplaceRequest& request) {
  return app::replace_label(office.ports(), office.shop(), request);
}

core::Result<std::vector<core::Package>> make_void(OfficeAtWork& office, const core::Package& package) {
  return app::void_labels(office.ports(), {"CD", {package.id.text()}, "torn"});
}

app::ReprintRequest reprint(const core::Package& package) {
  app::ReprintRequest request;
  request.operator_code = "CD";
  request.packages = {package.id.text()};
  request.out = "again.pdf";
  return request;
}

}  // namespace

TEST_CASE("A print run puts every package and its load number into the record, each under its own id") {
  OfficeAtWork office;
  auto request = office.print_request(kLoad);
  request.count = 25;
  const auto reply = must(print(office, request));
  REQUIRE(office.files.has("labels.pdf"));
  REQUIRE(office.load(kLoad).state == LoadState::Reserved);
  std::set<std::string> ids;
  for (const core::Package& package : reply.packages) {
    REQUIRE(ids.insert(package.id.text()).second);
    REQUIRE(office.now(package) == package);
    REQUIRE(package.payload.size() <= core::kLongestPayload);
    REQUIRE(package.use_by == package.process_date.plus_days(180));
    REQUIRE(package.print_run == reply.run.number);
  }
  REQUIRE(ids.size() == 25);
}

TEST_CASE("A label's text reads back as what was issued, and its authenticator fits") {
  OfficeAtWork office;
  const core::Package package = office.print(kLoad).front();
  const auto text = core::parse_payload(package.payload);
  const auto* label = std::get_if<core::PackageLabelText>(&text);
  REQUIRE(label != nullptr);
  REQUIRE(label->fields.package == package.id);
  REQUIRE(label->fields.load == kLoad);
  REQUIRE(office.keyring.verifies(label->signed_part, label->authenticator));
}

TEST_CASE("Without the packing acknowledged nothing is printed and the steps are listed") {
  OfficeAtWork office;
  auto request = office.print_request(kLoad);
  request.packed = false;
  const auto refused = print(office, request);
  REQUIRE(code_of(refused) == "packing-not-acknowledged");
  const auto steps = must(app::steps_for(office.ports(), "EXAM", "PCH"));
  REQUIRE(steps.size() >= 5);
  REQUIRE(refused.failure().items.size() == steps.size());
  for (std::size_t i = 0; i < steps.size(); ++i) {
    REQUIRE(refused.failure().items[i].key == "packing." + std::string{steps[i].code});
    REQUIRE(english().has(refused.failure().items[i].key));
  }
  REQUIRE_FALSE(office.files.has("labels.pdf"));
}

TEST_CASE("Stock that does not survive steam, or is not known to, is refused") {
  OfficeAtWork office;
  auto request = office.print_request(kLoad);
  const auto code_on = [&](const char* stock) {
    request.paper.stock = stock;
    return code_of(print(office, request));
  };
  const std::size_t before = office.ledger_size();
  REQUIRE(code_on("DIRECT") == "stock-direct-thermal");
  REQUIRE(code_on("NEW") == "stock-unrated");
  REQUIRE(code_on("NONE") == "code-unknown");
  REQUIRE(office.ledger_size() == before);
  REQUIRE(code_of(app::rate_stock(office.ports(), {"AB", "DIRECT", core::SteamRating::Trial, "ran it"})) ==
          "stock-direct-thermal");
  REQUIRE(code_of(app::rate_stock(office.ports(), {"AB", "NEW", core::SteamRating::Trial, ""})) ==
          "reason-missing");
  must(app::rate_stock(office.ports(), {"AB", "NEW", core::SteamRating::Trial, "10 sheets, legible"}));
  REQUIRE(code_on("NEW") == "ok");
}

TEST_CASE("What is asked for wrongly is refused before anything is printed") {
  OfficeAtWork office;
  const auto with = [&](auto change) {
    auto request = office.print_request(kLoad);
    change(request);
    return code_of(print(office, request));
  };
  REQUIRE(with([](auto& r) { r.count = 0; }) == "bad-value");
  REQUIRE(with([](auto& r) { r.count = 501; }) == "bad-value");
  REQUIRE(with([](auto& r) { r.kind = "UNW"; }) == "kind-takes-no-label");
  REQUIRE(with([](auto& r) { r.kind = "XX"; }) == "code-unknown");
  REQUIRE(with([](auto& r) { r.contents = "NONE"; }) == "code-unknown");
  REQUIRE(with([](auto& r) { r.load.number = 2; }) == "load-number-out-of-sequence");
  REQUIRE(with([](auto& r) { r.load.sterilizer = "S9"; }) == "code-unknown");
  REQUIRE(with([](auto& r) { r.process_date = core::CivilDate::from(2026, 11, 24); }) == "bad-value");
  REQUIRE(with([](auto& r) { r.paper.template_name = "no-such"; }) == "bad-template");
  REQUIRE(with([](auto& r) { r.paper.template_name = "shelf-tag"; }) == "template-unknown");
  REQUIRE(with([](auto& r) { r.paper.first_cell = 0; }) == "cell-outside-sheet");
  REQUIRE(with([](auto& r) { r.operator_code = ""; }) == "operator-missing");
  REQUIRE_FALSE(office.files.has("labels.pdf"));
}

TEST_CASE("A load that has started takes no more labels") {
  OfficeAtWork office;
  office.start(kLoad, office.print(kLoad));
  REQUIRE(code_of(print(office, office.print_request(kLoad))) == "load-wrong-state");
}

TEST_CASE("Packages are in the record only when their PDF was written") {
  for (bool jammed : {true, false}) {
    OfficeAtWork office;
    office.press.jammed = jammed;
    office.files.full = !jammed;
    const std::size_t before = office.ledger_size();
    REQUIRE(code_of(print(office, office.print_request(kLoad))) ==
            (jammed ? "part-unavailable" : "disk-full"));
    REQUIRE(office.ledger_size() == before);
    const auto unit = must(office.store.begin(port::Access::Read));
    REQUIRE(must(unit->packages().of_load(kLoad)).empty());
    REQUIRE_FALSE(must(unit->loads().find(kLoad)));
  }
}

TEST_CASE("Wherever the record fails no PDF stays that it does not know") {
  int failed = 0;
  for (int call = 1;; ++call) {
    OfficeAtWork office;
    office.store.break_call(call, core::Failure{core::FailureCode::DiskFull, {}, {}});
    const auto printed = print(office, office.print_request(kLoad));
    if (printed) break;
    ++failed;
    REQUIRE_FALSE(office.files.has("labels.pdf"));
  }
  REQUIRE(failed > 5);
}

TEST_CASE("A replacement is a new id, and the old one is void in the same transaction") {
  OfficeAtWork office;
  const core::Package old = office.print(kLoad).front();
  auto request = replacement(old);
  request.load = LoadName{"S1", 2};
  const std::size_t before = office.ledger_size();
  const core::Package fresh = must(replace(office, request)).packages.front();
  REQUIRE(office.ledger_size() == before + 1);
  REQUIRE(fresh.id != old.id);
  REQUIRE(fresh.load == LoadName{"S1", 2});
  REQUIRE(fresh.state == PackageState::Labelled);
  REQUIRE(office.now(old).state == PackageState::Void);
  REQUIRE(office.now(old).replaced_by == fresh.id);
  REQUIRE(office.check(old.payload).verdict.has(core::Reason::LabelVoid));
}

TEST_CASE("When the replacement cannot be written the old label stays as it was") {
  OfficeAtWork office;
  const core::Package old = office.print(kLoad).front();
  office.files.full = true;
  REQUIRE(code_of(replace(office, replacement(old))) == "disk-full");
  REQUIRE(office.now(old) == old);
}

TEST_CASE("After the start a label is not replaced, for another load neither") {
  OfficeAtWork office;
  const auto packages = office.print(kLoad);
  office.start(kLoad, packages);
  REQUIRE(code_of(replace(office, replacement(packages.front()))) == "load-wrong-state");
  auto for_the_next_load = replacement(packages.front());
  for_the_next_load.load = LoadName{"S1", 2};
  REQUIRE(code_of(replace(office, for_the_next_load)) == "load-wrong-state");
  REQUIRE(office.now(packages.front()).state == PackageState::Loaded);
}

TEST_CASE("A void label never returns") {
  OfficeAtWork office;
  const core::Package package = office.print(kLoad).front();
  must(make_void(office, package));
  REQUIRE(code_of(make_void(office, package)) == "package-wrong-state");
  REQUIRE(code_of(replace(office, replacement(package))) == "package-wrong-state");
  REQUIRE(code_of(app::reprint_labels(office.ports(), office.shop(), reprint(package))) ==
          "package-wrong-state");
  must(app::open_load(office.ports(), {"CD", "S1", "steam-134", {}, {}, {}}));
  REQUIRE(code_of(app::add_to_load(office.ports(), {"CD", kLoad, {package.id.text()}, {}})) ==
          "package-wrong-state");
  REQUIRE(code_of(app::withdraw_package(office.ports(), {"CD", package.id.text(), {}})) ==
          "package-wrong-state");
  REQUIRE(office.now(package).state == PackageState::Void);
}

TEST_CASE("A reprint keeps ids and texts and writes nothing but its event") {
  OfficeAtWork office;
  const auto packages = office.print(kLoad, 3);
  const std::size_t before = office.ledger_size();
  const auto reply = must(app::reprint_labels(office.ports(), office.shop(), reprint(packages[1])));
  REQUIRE(reply.packages == std::vector<core::Package>{packages[1]});
  REQUIRE(office.now(packages[1]) == packages[1]);
  REQUIRE(office.ledger_size() == before + 1);
}

TEST_CASE("Packages of two print runs are not reprinted together, nor a cell that holds none") {
  OfficeAtWork office;
  const auto first = office.print(kLoad, 2);
  const auto second = office.print(kLoad, 2);
  auto request = reprint(first[0]);
  request.packages.push_back(second[0].id.text());
  REQUIRE(code_of(app::reprint_labels(office.ports(), office.shop(), request)) == "bad-value");
  request = reprint(first[0]);
  request.cells = {3};
  REQUIRE(code_of(app::reprint_labels(office.ports(), office.shop(), request)) == "bad-value");
  request.packages.clear();
  REQUIRE(code_of(app::reprint_labels(office.ports(), office.shop(), request)) == "bad-value");
}

TEST_CASE("A label shows a shelf life day, or the words for event-related shelf life") {
  OfficeAtWork dated;
  dated.print(kLoad);
  REQUIRE(must(dated.files.read("labels.pdf", 1 << 20)).find("2027-05-24") != std::string::npos);
  OfficeAtWork event_related{"us-cdc-2003", std::nullopt};
  event_related.print(kLoad);
  const std::string pdf = must(event_related.files.read("labels.pdf", 1 << 20));
  REQUIRE(pdf.find("2027") == std::string::npos);
  REQUIRE(pdf.find("Do not use") != std::string::npos);
}

TEST_CASE("Whichever call of the store fails, labels are made whole or not at all") {
  const auto one_label = [](OfficeAtWork& office) { return office.print(kLoad).front(); };
  require_all_or_nothing(
      [](OfficeAtWork&) { return 0; },
      [](OfficeAtWork& office, int) { return print(office, office.print_request(kLoad)).ok(); });
  require_all_or_nothing(one_label, [](OfficeAtWork& office, const core::Package& old) {
    return replace(office, replacement(old)).ok();
  });
  require_all_or_nothing(one_label, [](OfficeAtWork& office, const core::Package& package) {
    return make_void(office, package).ok();
  });
  require_all_or_nothing(one_label, [](OfficeAtWork& office, const core::Package& package) {
    return app::reprint_labels(office.ports(), office.shop(), reprint(package)).ok();
  });
}

}  // namespace loadlight::tests
