#include "loadlight/app/stock_trial.h"

#include <algorithm>

#include "app/office_at_work.h"

namespace loadlight::tests {
namespace {

// A sound print: every parameter an A by ISO/IEC 15415.
app::TrialPicture picture(double contrast) {
  core::PrintMeasures measures;
  measures.decoded = true;
  measures.contrast = contrast;
  measures.unused_error_correction = 1;
  measures.check_codewords = {18, 18};
  for (int block = 0; block < 2; ++block) {
    for (int i = 0; i < 33; ++i) measures.codewords.push_back({block, 0.9, false});
  }
  measures.module_pixels = 8;
  return {"LL1.S8Q4T0ZK3MW", measures};
}

std::string value_of(const app::Row& row, std::string_view name) {
  const auto found = std::find_if(row.begin(), row.end(), [&](const auto& each) { return each.first == name; });
  return found == row.end() ? "" : found->second;
}

}  // namespace

TEST_CASE("A stock whose label reads as well after steam is rated by the trial") {
  OfficeAtWork office;
  const auto reply = must(app::try_stock(office.ports(), {"AB", "NEW", picture(0.8), picture(0.78)}));
  CHECK(reply.survives);
  CHECK(value_of(reply.stock, "rating") == "trial");
  CHECK(value_of(reply.stock, "rating_note") == "estimate before steam A, after A");
}

TEST_CASE("A stock that pales by one grade survives, and the note says what paled") {
  OfficeAtWork office;
  const auto reply = must(app::try_stock(office.ports(), {"AB", "NEW", picture(0.8), picture(0.6)}));
  CHECK(reply.survives);
  CHECK(value_of(reply.stock, "rating_note") ==
        "estimate before steam A, after B; contrast 0.80 -> 0.60");
}

TEST_CASE("A stock that loses two grades, falls under C or is not read any more goes back to unrated") {
  OfficeAtWork office;
  auto unread = picture(0.8);
  unread.measures.decoded = false;
  for (const auto& [before, after] : {std::pair{picture(0.8), picture(0.45)},
                                      std::pair{picture(0.45), picture(0.3)},
                                      std::pair{picture(0.8), unread}}) {
    const auto reply = must(app::try_stock(office.ports(), {"AB", "ROLL", before, after}));
    CHECK_FALSE(reply.survives);
    CHECK(value_of(reply.stock, "rating") == "unrated");
  }
  auto request = office.print_request({"S1", 1});
  request.paper.stock = "ROLL";
  CHECK(code_of(app::print_labels(office.ports(), office.shop(), request)) == "stock-unrated");
}

TEST_CASE("Pictures of two different labels, direct thermal stock and unknown stock are refused") {
  OfficeAtWork office;
  auto other = picture(0.8);
  other.text = "LL1.S0000000000";
  CHECK(code_of(app::try_stock(office.ports(), {"AB", "NEW", picture(0.8), other})) == "bad-value");
  CHECK(code_of(app::try_stock(office.ports(), {"AB", "DIRECT", picture(0.8), picture(0.8)})) ==
        "stock-direct-thermal");
  CHECK(code_of(app::try_stock(office.ports(), {"AB", "NONE", picture(0.8), picture(0.8)})) ==
        "code-unknown");
}

TEST_CASE("A trial is written whole or not at all") {
  require_all_or_nothing([](OfficeAtWork&) { return 0; },
                         [](OfficeAtWork& office, int) {
                           return bool{app::try_stock(office.ports(), {"AB", "NEW", picture(0.8), picture(0.8)})};
                         });
}

}  // namespace loadlight::tests
