#include "loadlight/app/print_record.h"

#include "app/office_at_work.h"
#include "app/record_reader.h"
#include "loadlight/app/set_profile.h"

namespace loadlight::tests {
namespace {

// Keeps the pages instead of printing them.
class PageKeeper final : public label::Press {
 public:
  core::Result<std::string> print(const std::vector<label::Page>& pages, core::Instant) const override {
    texts_.clear();
    for (const label::Page& page : pages) {
      for (const label::Drawn& item : page.items) {
        if (const auto* text = std::get_if<label::DrawnText>(&item)) texts_ += text->text + "\n";
      }
    }
    return std::to_string(pages.size());
  }
  const std::string& texts() const { return texts_; }

 private:
  mutable std::string texts_;
};

// A zone some hours and minutes from UTC.
class ShiftedZone final : public port::Zone {
 public:
  explicit ShiftedZone(int minutes) : shift_(minutes) {}
  core::CivilDate local_date(core::Instant t) const override { return utc_.local_date(t + shift_); }
  std::string local_text(core::Instant t) const override {
    const std::string text = core::to_text(t + shift_);
    return text.substr(0, 10) + " " + text.substr(11, 5);
  }
  std::string name() const override { return "Test/Shifted"; }

 private:
  core::Minutes shift_;
  UtcZone utc_;
};

// An office that set its daily air removal test off, so that a load can be released by itself.
struct PrintingOffice final : OfficeAtWork {
  PrintingOffice() {
    must(app::set_profile_value(ports(), {"AB", "air-removal-test", "off", "tested by a service"}));
  }
};

struct Printing final {
  PlainGauge gauge;
  PageKeeper press;
  app::PageShop shop() { return {gauge, press, english(), app::PageSize::A4}; }
};

app::PeriodRequest november() {
  return {*core::CivilDate::from(2026, 11, 1), *core::CivilDate::from(2026, 11, 30), ""};
}

using Catch::Contains;

}  // namespace

TEST_CASE("A released load's record names its package, who released it, and its evidence", "[R19]") {
  PrintingOffice office;
  const core::Package package = office.released_package();
  Printing printing;
  must(app::load_record_pdf(office.ports(), printing.shop(), {"S1", 1}));
  const std::string& texts = printing.press.texts();
  CHECK_THAT(texts, Contains("Load record S1-1"));
  CHECK_THAT(texts, Contains("RELEASED"));
  CHECK_THAT(texts, Contains(package.id.grouped()));
  CHECK_THAT(texts, Contains("(CD)"));
  CHECK_THAT(texts, Contains("us-cdc-2003"));
  CHECK_THAT(texts, Contains("2026-11-25"));
  CHECK_THAT(texts, !Contains("«"));
}

TEST_CASE("A record of a load that nobody opened is refused") {
  PrintingOffice office;
  Printing printing;
  CHECK(code_of(app::load_record_pdf(office.ports(), printing.shop(), {"S1", 9})) == "load-unknown");
}

TEST_CASE("Printing a record writes nothing") {
  PrintingOffice office;
  office.released_package();
  const auto before = office.ledger_size();
  Printing printing;
  must(app::load_record_pdf(office.ports(), printing.shop(), {"S1", 1}));
  must(app::period_record_pdf(office.ports(), printing.shop(), november()));
  must(app::period_record_csv(office.ports(), november()));
  CHECK(office.ledger_size() == before);
}

TEST_CASE("A load that waits for its decision shows the reasons against a release now") {
  PrintingOffice office;
  const auto packages = office.print({"S1", 1});
  office.start({"S1", 1}, packages);
  office.finish({"S1", 1});
  Printing printing;
  must(app::load_record_pdf(office.ports(), printing.shop(), {"S1", 1}));
  CHECK_THAT(printing.press.texts(), Contains("ENDED, NOT DECIDED"));
  CHECK_THAT(printing.press.texts(), Contains("No readings"));
}

TEST_CASE("A release that was taken back stands under who took it back and why") {
  PrintingOffice office;
  office.released_package();
  must(app::revoke_release(office.ports(), {"AB", {"S1", 1}, "door seal torn"}));
  Printing printing;
  must(app::load_record_pdf(office.ports(), printing.shop(), {"S1", 1}));
  CHECK_THAT(printing.press.texts(), Contains("RELEASE TAKEN BACK"));
  CHECK_THAT(printing.press.texts(), Contains("door seal torn"));
}

TEST_CASE("A period's record begins with a summary and holds each of its loads, and no others") {
  PrintingOffice office;
  office.released_package({"S1", 1});
  office.released_package({"S1", 2});
  Printing printing;
  must(app::period_record_pdf(office.ports(), printing.shop(), november()));
  const std::string texts = printing.press.texts();
  CHECK(texts.find("Load records 2026-11-01 to") == 0);
  CHECK_THAT(texts, Contains("Load record S1-1\n") && Contains("Load record S1-2\n"));
  auto december = november();
  december.first = *core::CivilDate::from(2026, 12, 1);
  december.last = *core::CivilDate::from(2026, 12, 31);
  must(app::period_record_pdf(office.ports(), printing.shop(), december));
  CHECK_THAT(printing.press.texts(), Contains("No load was started") && !Contains("S1-1\n"));
}

TEST_CASE("A period may be asked of one sterilizer, and its days must be in order") {
  PrintingOffice office;
  office.released_package({"S1", 1});
  auto request = november();
  request.sterilizer = "S2";
  CHECK_THAT(must(app::period_record_csv(office.ports(), request)), !Contains("S1-1"));
  request.sterilizer = "S1";
  CHECK_THAT(must(app::period_record_csv(office.ports(), request)), Contains("S1-1,2026-11-25,S1,"));
  std::swap(request.first, request.last);
  CHECK(code_of(app::period_record_csv(office.ports(), request)) == "bad-value");
}

TEST_CASE("Printed times carry the zone's offset, ahead and behind, across midnight") {
  const auto t = core::instant_from(1795648500000);  // 2026-11-25T23:15:00Z
  CHECK(app::local_time_with_offset(ShiftedZone{0}, t) == "2026-11-25 23:15 +00:00");
  CHECK(app::local_time_with_offset(ShiftedZone{345}, t) == "2026-11-26 05:00 +05:45");
  CHECK(app::local_time_with_offset(ShiftedZone{-210}, t) == "2026-11-25 19:45 -03:30");
  CHECK(app::local_time_with_offset(ShiftedZone{60}, t + std::chrono::milliseconds{59999}) ==
        "2026-11-26 00:15 +01:00");
}

}  // namespace loadlight::tests
