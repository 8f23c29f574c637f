#include "loadlight/app/preview_labels.h"

#include "app/office_at_work.h"
#include "loadlight/app/change_labels.h"
#include "loadlight/app/pack_choices.h"

namespace loadlight::tests {
namespace {

using core::LoadName;

const LoadName kLoad{"S1", 1};

core::Result<app::LabelPreview> preview(OfficeAtWork& office, const app::PrintRequest& request) {
  return app::preview_labels(office.ports(), office.shop(), request);
}

bool shows(const label::Page& page, std::string_view text) {
  for (const label::Drawn& item : page.items) {
    if (const auto* drawn = std::get_if<label::DrawnText>(&item); drawn && drawn->text == text) return true;
  }
  return false;
}

TEST_CASE("A sample's text is no label and no id whatever its length") {
  for (std::size_t length = 0; length <= core::kLongestPayload; ++length) {
    const std::string text = app::sample_payload(length);
    CAPTURE(text);
    REQUIRE(text.size() == length);
    REQUIRE(std::holds_alternative<core::NotOursText>(core::parse_payload(text)));
  }
  REQUIRE_FALSE(core::PackageId::parse_typed(app::kSampleId));
}

TEST_CASE("A preview shows the page that is printed but for its id and symbol and records nothing") {
  OfficeAtWork office;
  auto request = office.print_request(kLoad);
  request.packed = false;
  const auto shown = must(preview(office, request));
  REQUIRE(shown.labels == 1);
  REQUIRE(shown.stock == "ROLL");
  REQUIRE(shows(shown.page, app::kSampleId));
  REQUIRE(shows(shown.page, "S1-1"));
  REQUIRE(must(must(office.store.begin(port::Access::Read))->print_runs().highest_number()) == 0);
  REQUIRE_FALSE(must(must(office.store.begin(port::Access::Read))->loads().find(kLoad)));
}

TEST_CASE("A preview of many labels counts their pages and draws the first alone") {
  OfficeAtWork office;
  auto request = office.print_request(kLoad);
  request.count = 500;
  request.paper.template_name = "a4-24";
  request.paper.first_cell = 20;
  const auto shown = must(preview(office, request));
  REQUIRE(shown.labels == 5);
  REQUIRE(shown.pages == 22);  // 19 cells are gone, 519 cells of 24 a page
}

TEST_CASE("A preview refuses what printing would refuse") {
  OfficeAtWork office;
  const auto refused = [&office](auto change) {
    auto request = office.print_request(kLoad);
    change(request);
    return code_of(preview(office, request));
  };
  REQUIRE(refused([](auto& r) { r.count = 0; }) == "bad-value");
  REQUIRE(refused([](auto& r) { r.count = 501; }) == "bad-value");
  REQUIRE(refused([](auto& r) { r.kind = "UNW"; }) == "kind-takes-no-label");
  REQUIRE(refused([](auto& r) { r.load.number = 3; }) == "load-number-out-of-sequence");
  REQUIRE(refused([](auto& r) { r.paper.stock = "DIRECT"; }) == "stock-direct-thermal");
  REQUIRE(refused([](auto& r) { r.paper.stock = "NEW"; }) == "stock-unrated");
  REQUIRE(refused([](auto& r) { r.operator_code = "ZZ"; }) == "operator-unknown");
}

TEST_CASE("What was packed lately comes first with its usual kind and its sterilizer") {
  OfficeAtWork office;
  office.print({"S2", 1}, 3, "IMPL");
  office.print({"S2", 1}, 1, "IMPL");
  office.print({"S2", 1}, 1, "EXAM");
  const auto choices = must(app::pack_choices(office.ports()));
  REQUIRE(choices.contents.at(0).contents.code == "IMPL");
  REQUIRE(choices.contents.at(0).lately == 2);
  REQUIRE(choices.contents.at(0).usual_kind == "PCH");
  REQUIRE(choices.contents.at(1).contents.code == "EXAM");
  REQUIRE(choices.contents.at(2).lately == 0);
  REQUIRE(choices.sterilizers.at(0).sterilizer.code == "S2");
  const auto& loads = choices.sterilizers.at(0).loads;
  REQUIRE(loads.size() == 2);
  REQUIRE(loads.at(0).name == LoadName{"S2", 1});
  REQUIRE(loads.at(0).labelled == 5);
  REQUIRE(loads.at(1).name == LoadName{"S2", 2});
  REQUIRE_FALSE(loads.at(1).state);
  for (const auto& kind : choices.kinds) REQUIRE(kind.code != "UNW");
  for (const auto& stock : choices.stocks) REQUIRE(stock.code == "ROLL");
}

TEST_CASE("The last place of a template is that of its newest run") {
  OfficeAtWork office;
  REQUIRE_FALSE(must(app::last_cell_of(office.ports(), "a4-24")));
  auto request = office.print_request(kLoad);
  request.count = 7;
  request.paper.template_name = "a4-24";
  request.paper.first_cell = 4;
  must(app::print_labels(office.ports(), office.shop(), request));
  office.print(kLoad);
  REQUIRE(must(app::last_cell_of(office.ports(), "a4-24")) == 10);
}

TEST_CASE("An old label tells what its package was packed as and a foreign one nothing") {
  OfficeAtWork office;
  const core::Package package = office.print(kLoad, 1, "HOLLOW").front();
  const auto old = must(app::packed_before(office.ports(), package.payload));
  REQUIRE(old.contents == "HOLLOW");
  REQUIRE(old.kind == "PCH");
  std::string forged = package.payload;
  forged.back() = forged.back() == '0' ? '1' : '0';
  REQUIRE(code_of(app::packed_before(office.ports(), forged)) == "label-not-authentic");
  REQUIRE(code_of(app::packed_before(office.ports(), "SAMPLE")) == "bad-package-id");
}

}  // namespace
}  // namespace loadlight::tests
