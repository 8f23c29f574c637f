#include "app/office_at_work.h"

#include "loadlight/app/change_labels.h"
#include "loadlight/render/render.h"

// Labels through the real encoder, fonts and press.

namespace loadlight::tests {
namespace {

const core::LoadName kLoad{"S1", 1};

struct RealShop final {
  explicit RealShop(const OfficeAtWork& office) : hand(office.shop()) {}

  app::PrintShop shop() const {
    return {*encoder, *gauge, *press, hand.files, hand.words, hand.find_template};
  }

  app::PrintShop hand;
  std::unique_ptr<port::SymbolEncoder> encoder = render::make_symbol_encoder();
  std::unique_ptr<label::TextGauge> gauge = render::make_text_gauge();
  std::unique_ptr<label::Press> press = render::make_press();
};

app::ReprintRequest whole_run(const core::Package& package) {
  app::ReprintRequest request;
  request.operator_code = "CD";
  request.packages = {package.id.text()};
  request.whole_run = true;
  request.out = "again.pdf";
  return request;
}

std::string bytes(const OfficeAtWork& office, const char* path) {
  return must(office.files.read(path, 1 << 26));
}

}  // namespace

TEST_CASE("A whole print run reprinted days later is the first PDF byte for byte") {
  for (const char* form : {"roll-57x32", "a4-24", "letter-3x10", "wrap-100x50", "roll-25x54"}) {
    OfficeAtWork office;
    const RealShop real{office};
    auto request = office.print_request(kLoad);
    request.count = 3;
    request.paper.template_name = form;
    request.paper.nudge_x = 0.4;
    CAPTURE(form);
    const auto first = must(app::print_labels(office.ports(), real.shop(), request));
    office.clock.turn_days(3);
    must(app::reprint_labels(office.ports(), real.shop(), whole_run(first.packages.front())));
    const bool same = bytes(office, "again.pdf") == bytes(office, "labels.pdf");
    REQUIRE(same);
    REQUIRE(bytes(office, "labels.pdf").substr(0, 5) == "%PDF-");
  }
}

TEST_CASE("A reprint of one label draws the symbol that the record keeps") {
  OfficeAtWork office;
  const RealShop real{office};
  auto request = office.print_request(kLoad);
  request.count = 2;
  const auto first = must(app::print_labels(office.ports(), real.shop(), request));
  const core::Package& package = first.packages.back();
  const auto as_first =
      must(real.encoder->encode(package.payload, package.symbol.version, package.symbol.level, std::nullopt));
  const auto as_kept = must(real.encoder->encode(package.payload, package.symbol.version,
                                                 package.symbol.level, package.symbol.mask));
  REQUIRE(as_first == as_kept);
  auto one = whole_run(package);
  one.whole_run = false;
  REQUIRE(must(app::reprint_labels(office.ports(), real.shop(), one)).packages.size() == 1);
  REQUIRE(bytes(office, "again.pdf") != bytes(office, "labels.pdf"));
}

}  // namespace loadlight::tests
