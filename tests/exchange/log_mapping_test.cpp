#include "loadlight/exchange/log_mapping.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>

#include "exchange/cycle_files.h"

namespace loadlight::exchange {
namespace {

const std::string kGood =
    "loadlight-mapping 1\n"
    "separator comma\n"
    "time column=seconds form=seconds\n"
    "temperature column=celsius unit=C\n"
    "pressure column=kpa unit=kPa reference=absolute\n"
    "interval 1\n";

// "line problem what" of a mapping that is refused.
std::string problem_of(const std::string& text) {
  const auto mapping = parse_mapping("m", text);
  if (mapping) return "accepted";
  CHECK(mapping.failure().code == core::FailureCode::BadTemplate);
  std::string found[3];
  for (const auto& [name, value] : mapping.failure().details) {
    if (name == "line") found[0] = value;
    if (name == "problem") found[1] = value;
    if (name == "what") found[2] = value;
  }
  return found[0] + " " + found[1] + " " + found[2];
}

std::string with(const std::string& line, const std::string& instead) {
  std::string text = kGood;
  text.replace(text.find(line), line.size(), instead);
  return text;
}

TEST_CASE("Every statement of a mapping is read") {
  const auto mapping =
      parse_mapping("m",
                    "loadlight-mapping 1  # its form\r\n"
                    "\n"
                    "encoding latin-1\nseparator tab\ndecimal comma\nskip 4\nignore \"# \"\nignore END\n"
                    "time column=\"Time of day\" form=clock zone=utc\n"
                    "date column=2 order=dmy\n"
                    "temperature column=\"T °F\" before=\"T=\" after=F unit=F   # a remark\n"
                    "pressure column=P unit=psi reference=gauge barometric=83.5\n"
                    "interval 2.5");
  REQUIRE(mapping);
  LogMapping expected;
  expected.encoding = LogEncoding::Latin1;
  expected.separator = LogSeparator::Tab;
  expected.decimal = LogDecimal::Comma;
  expected.skipped_lines = 4;
  expected.ignored_starts = {"# ", "END"};
  expected.time = {0, "Time of day", "", ""};
  expected.time_form = LogTimeForm::Clock;
  expected.zone = LogZone::Utc;
  expected.date = LogColumn{2, "", "", ""};
  expected.date_order = LogDateOrder::DayMonthYear;
  expected.temperature = {0, "T °F", "T=", "F"};
  expected.temperature_unit = TemperatureUnit::Fahrenheit;
  expected.pressure = LogColumn{0, "P", "", ""};
  expected.pressure_unit = PressureUnit::Psi;
  expected.pressure_reference = PressureReference::Gauge;
  expected.barometric_kpa = 83.5;
  expected.nominal_seconds = 2.5;
  CHECK(*mapping == expected);
}

TEST_CASE("A mapping that is wrong is refused with line and what") {
  CHECK(problem_of(kGood) == "accepted");
  CHECK(problem_of("") == " mapping-header-missing ");
  CHECK(problem_of("loadlight-label 1\n") == " mapping-header-missing ");
  CHECK(problem_of(with("mapping 1", "mapping 2")) == "1 later-form ");
  CHECK(problem_of(with("separator comma", "separator dot")) == "2 value-unknown dot");
  CHECK(problem_of(with("separator comma", "separator")) == "2 value-missing separator");
  CHECK(problem_of(with("separator comma\n", "")) == " statement-missing separator");
  CHECK(problem_of(with("interval 1\n", "")) == " statement-missing interval");
  CHECK(problem_of(with("interval 1", "interval 0")) == "6 number-out-of-range 0");
  CHECK(problem_of(with("interval 1", "interval 61")) == "6 number-out-of-range 61");
  CHECK(problem_of(with("interval 1", "interval nan")) == "6 number-expected nan");
  CHECK(problem_of(with("unit=C", "unit=K")) == "4 value-unknown K");
  CHECK(problem_of(with(" unit=C", "")) == "4 value-missing unit");
  CHECK(problem_of(with("unit=C", "unit=C unit=F")) == "4 value-repeated unit");
  CHECK(problem_of(with("unit=C", "unit=C colour=red")) == "4 value-unknown colour");
  CHECK(problem_of(with("reference=absolute", "reference=gauge")) == "5 value-missing barometric");
  CHECK(problem_of(with("absolute", "gauge barometric=1013")) == "5 number-out-of-range 1013");
  CHECK(problem_of(with("column=kpa", "column=0")) == "5 number-out-of-range 0");
  CHECK(problem_of(with("column=kpa", "column=1.5")) == "5 number-expected 1.5");
  CHECK(problem_of(with("column=kpa", "column=\"kpa")) == "5 quote-open ");
  CHECK(problem_of(kGood + "interval 2\n") == "7 statement-repeated interval");
  CHECK(problem_of(kGood + "speed 2\n") == "7 statement-unknown speed");
  CHECK(problem_of(kGood + "decimal comma\n") == " separator-is-decimal ");
  CHECK(problem_of(kGood + "header no\n") == " names-without-header ");
  CHECK(problem_of(kGood + "date column=day order=ymd\n") == " date-without-clock ");
  CHECK(problem_of(kGood + "\xFF") == " not-text ");
  CHECK(problem_of(kGood + std::string(kLargestMapping, '#')) == " too-large ");
}

TEST_CASE("Every prefix of a mapping is read or refused") {
  for (std::size_t length = 0; length + 1 < kGood.size(); ++length) problem_of(kGood.substr(0, length));
  CHECK(problem_of(kGood.substr(0, kGood.size() - 1)) == "accepted");
}

TEST_CASE("The mappings that come with the program are good") {
  int count = 0;
  for (const auto& entry :
       std::filesystem::directory_iterator{std::string{LOADLIGHT_SOURCE_DIR} + "/templates/mappings"}) {
    if (entry.path().extension() != ".mapping") continue;
    mapping_named(entry.path().stem().string());
    ++count;
  }
  CHECK(count == 6);
}

TEST_CASE("Units are converted to Celsius and absolute kilopascals", "[R32]") {
  CHECK(to_celsius(273.2, TemperatureUnit::Fahrenheit) == Approx(134));
  CHECK(to_celsius(250, TemperatureUnit::Fahrenheit) == Approx(121.11).margin(0.005));
  LogMapping mapping;
  mapping.pressure_unit = PressureUnit::Bar;
  CHECK(to_kpa_abs(3.042, mapping) == Approx(304.2));
  mapping.pressure_unit = PressureUnit::Millibar;
  CHECK(to_kpa_abs(3042, mapping) == Approx(304.2));
  mapping.pressure_reference = PressureReference::Gauge;
  mapping.pressure_unit = PressureUnit::Psi;
  // 134 C: 29.42 psi gauge at sea level (computed from IF97; facts of the trade, section 4).
  CHECK(to_kpa_abs(29.42, mapping) == Approx(304.20).epsilon(0).margin(0.05));
  mapping.barometric_kpa = 83.5;
  CHECK(to_kpa_abs(0, mapping) == 83.5);
}

}  // namespace
}  // namespace loadlight::exchange
