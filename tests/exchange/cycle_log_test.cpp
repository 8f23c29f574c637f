#include "loadlight/exchange/cycle_log.h"

#include <catch2/catch.hpp>

#include <cstdio>

#include "exchange/cycle_files.h"
#include "loadlight/exchange/csv.h"

namespace loadlight::exchange {
namespace {

LogMapping plain() {
  return mapping_named("plain-seconds");
}

// Rows two seconds apart at 121 C in steam, `count` of them; row i stands in line i + 2.
std::vector<std::string> rows(int count = 30) {
  std::vector<std::string> lines;
  for (int i = 0; i < count; ++i) lines.push_back(std::to_string(2 * i) + ",121.0,205.0");
  return lines;
}
std::string joined(const std::vector<std::string>& lines,
                   const std::string& header = "seconds,celsius,kpa\n") {
  std::string text = header;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}
// The same with line `at` replaced.
std::string with_row(std::size_t at, const std::string& row) {
  auto lines = rows();
  lines[at] = row;
  return joined(lines);
}

// "key" or "key@line" of every error, with a space between; of an encoding "why@line".
std::string errors_of(const LogMapping& mapping, std::string_view text) {
  const auto log = read_log(mapping, text, 121);
  if (log.summary) return "";
  const core::Failure& failure = log.summary.failure();
  if (failure.code == core::FailureCode::BadEncoding) {
    return failure.details[1].second + "@" + failure.details[0].second;
  }
  std::string found;
  for (const core::Sentence& item : failure.items) {
    const bool of_line = !item.details.empty() && item.details[0].first == "line";
    found += (found.empty() ? "" : " ") + item.key + (of_line ? "@" + item.details[0].second : "");
  }
  return found;
}
std::string errors_of(std::string_view text) {
  return errors_of(plain(), text);
}

TEST_CASE("A good log is taken whole") {
  const auto log = read_log(plain(), joined(rows()), 121);
  REQUIRE(log.summary);
  CHECK(log.summary->samples == 30);
  CHECK(log.summary->lines == 31);
  CHECK(log.summary->first_time == "0");
  CHECK(log.summary->last_time == "58");
  CHECK_FALSE(log.summary->last_line_left_out);
}

TEST_CASE("What stands in a line wrongly is refused with its line") {
  CHECK(errors_of(with_row(3, "5,121.0,205.0")) == "");  // uneven steps are no error
  CHECK(errors_of(with_row(3, "3,121.0,205.0")) == "cycle-log.time-back@5");
  CHECK(errors_of(with_row(3, "4,121.0,205.1")) == "cycle-log.time-twice@5");
  CHECK(errors_of(with_row(3, "NaN,121.0,205.0")) == "cycle-log.time@5");
  CHECK(errors_of(with_row(3, "-6,121.0,205.0")) == "cycle-log.time@5");
  CHECK(errors_of(with_row(3, ",121.0,205.0")) == "cycle-log.time@5");
  for (const char* bad : {"NaN", "nan", "inf", "-inf", "1e2", "121,0", "12 1", "0x79", "---", "121.", ".5",
                          "1234567890123456", "401", "-91"}) {
    INFO(bad);
    CHECK(errors_of(with_row(3, "6,\"" + std::string{bad} + "\",205.0")) == "cycle-log.temperature@5");
  }
  CHECK(errors_of(with_row(3, "6,121.0,NaN")) == "cycle-log.pressure@5");
  CHECK(errors_of(with_row(3, "6,121.0,100001")) == "cycle-log.pressure@5");
  CHECK(errors_of(with_row(3, "6,121.0,0")) == "cycle-log.pressure-not-absolute@5");
  CHECK(errors_of(with_row(3, "6,121.0,-12.5")) == "cycle-log.pressure-not-absolute@5");
  CHECK(errors_of(with_row(3, "6,121.0")) == "csv.row-cells@5");
  CHECK(errors_of(with_row(3, "6,121.0,205.0,1")) == "csv.row-cells@5");
  CHECK(errors_of(with_row(3, "6,\"121.0,205.0")) == "csv.quote-open@5");
  CHECK(errors_of(with_row(3, "6,\"121.0\"0,205.0")) == "csv.after-quote@5");
  CHECK(errors_of(with_row(3, std::string(100, ','))) == "csv.many-cells@5");
  CHECK(errors_of(with_row(3, std::string(1'000'000, '7'))) == "cycle-log.line-long@5");
}

TEST_CASE("Every wrong line is named up to a limit and counted beyond it") {
  CHECK(errors_of(joined({"0,x,1", "1,2", "2,121,205"})) == "cycle-log.temperature@2 csv.row-cells@3");
  const auto log = read_log(plain(), joined(std::vector<std::string>(1000, "x,x,x")), 121);
  REQUIRE_FALSE(log.summary);
  CHECK(log.summary.failure().items.size() == kMostErrors);
  CHECK(log.summary.failure().details == core::Details{{"count", "2000"}});
}

TEST_CASE("Bytes that are no text are refused") {
  CHECK(errors_of(with_row(3, std::string("6,121.0,205.0\0", 14))) == "nul@5");
  CHECK(errors_of(with_row(3, "6,121.0\xB0,205.0")) == "not-utf-8@5");
  CHECK(errors_of("\xFF\xFEs\0e\0c\0") == "utf-16@1");
  CHECK(errors_of("\xEF\xBB\xBF" + joined(rows())) == "");
}

TEST_CASE("Latin-1 is read where the mapping says so") {
  LogMapping mapping = plain();
  mapping.temperature.name = "°C";
  CHECK(errors_of(mapping, joined(rows(),
                                  "seconds,\xB0"
                                  "C,kpa\n")) == "not-utf-8@1");
  mapping.encoding = LogEncoding::Latin1;
  CHECK(errors_of(mapping, joined(rows(),
                                  "seconds,\xB0"
                                  "C,kpa\n")) == "");
  CHECK(errors_of(mapping, joined(rows(), std::string("seconds,\xB0"
                                                      "C\0,kpa\n",
                                                      16))) == "nul@1");
}

TEST_CASE("What the mapping says stands around a value is taken off, and must stand there") {
  LogMapping mapping = plain();
  mapping.temperature.before = "T=";
  mapping.temperature.after = "C";
  auto lines = rows();
  for (std::string& line : lines) line = line.substr(0, line.find(',')) + ",T= 121.0 C,205.0";
  CHECK(read_log(mapping, joined(lines), 121).findings.high_celsius == 121);
  for (const char* bad : {"121.0", "T=121.0", "121.0C", "T=C", "C", "T=121.0F"}) {
    auto wrong = lines;
    wrong[3] = "6," + std::string{bad} + ",205.0";
    CHECK(errors_of(mapping, joined(wrong)) == "cycle-log.temperature@5");
  }
}

TEST_CASE("Columns are found by name or refused") {
  CHECK(errors_of(joined(rows(), "seconds,temp,kpa\n")) == "csv.column-missing@1");
  CHECK(errors_of(joined(rows(), "seconds,celsius,celsius\n")) == "csv.column-twice@1 csv.column-missing@1");
  CHECK(errors_of("") == "cycle-log.empty");
  CHECK(errors_of("seconds,celsius,kpa\n") == "cycle-log.empty");
  LogMapping mapping = plain();
  mapping.pressure = LogColumn{9, "", "", ""};
  CHECK(errors_of(mapping, joined(rows())) == "cycle-log.column-beyond@1");
}

TEST_CASE("A row that repeats the one before is dropped and counted") {
  auto lines = rows();
  lines.insert(lines.begin() + 5, 3, lines[4]);
  const auto log = read_log(plain(), joined(lines), 121);
  REQUIRE(log.summary);
  CHECK(log.summary->repeated == 3);
  CHECK(log.summary->samples == 30);
}

TEST_CASE("A row without a temperature is dropped and so a gap") {
  auto lines = rows();
  for (std::size_t i = 10; i < 13; ++i) lines[i] = std::to_string(2 * i) + ",,205.0";
  const auto log = read_log(plain(), joined(lines), 121);
  REQUIRE(log.summary);
  CHECK(log.summary->without_temperature == 3);
  CHECK(log.findings.gap_count == 1);
}

TEST_CASE("A pressure that is not there is counted and not invented") {
  const auto log = read_log(plain(), with_row(3, "6,121.0,"), 121);
  REQUIRE(log.summary);
  CHECK(log.findings.without_pressure == 1);
}

TEST_CASE("A last line without its end is told and never taken") {
  std::string text = joined(rows());
  text.pop_back();
  const auto log = read_log(plain(), text, 121);
  REQUIRE(log.summary);
  CHECK(log.summary->last_line_left_out);
  CHECK(log.summary->samples == 29);
  for (std::size_t cut = 1; cut <= 7; ++cut) {  // "58,121.0,205.0" down to "58,121."
    const std::string shorter = text.substr(0, text.size() - cut);
    const bool whole = cut >= 2 && cut <= 5;  // "58,121.0,205", …, "58,121.0,"
    INFO(shorter.substr(shorter.size() - 14));
    CHECK(errors_of(shorter) == (whole ? "" : "cycle-log.cut-off@31"));
  }
}

TEST_CASE("One hundred and thirty four in a Fahrenheit column is doubted") {
  LogMapping mapping = plain();
  mapping.temperature_unit = TemperatureUnit::Fahrenheit;
  mapping.pressure.reset();
  std::vector<std::string> lines;
  for (int i = 0; i < 40; ++i)
    lines.push_back(std::to_string(2 * i) + "," + (i < 20 ? "90" : "134") + ",304");
  const auto log = read_log(mapping, joined(lines), 134);
  REQUIRE_FALSE(log.summary);
  REQUIRE(log.summary.failure().items.size() == 1);
  CHECK(log.summary.failure().items[0].key == "cycle-log.unit-doubtful");
  CHECK(log.summary.failure().items[0].details ==
        core::Details{{"peak", "134.0"}, {"unit", "°F"}, {"highest", "56.7"}});
}

TEST_CASE("Fahrenheit in a Celsius column is doubted") {
  auto lines = rows();
  for (std::string& line : lines) line = line.substr(0, line.find(',')) + ",250.0,205.0";
  CHECK(errors_of(joined(lines)) == "cycle-log.unit-doubtful");
}

TEST_CASE("Pressures that cannot be what the mapping says are doubted") {
  auto lines = rows();
  for (std::string& line : lines)
    line = line.substr(0, line.find(',')) + ",121.0,103.7";  // gauge for absolute
  CHECK(errors_of(joined(lines)) == "cycle-log.pressure-doubtful");
  for (std::string& line : lines) line = line.substr(0, line.find(',')) + ",121.0,2.05";  // bar for kPa
  CHECK(errors_of(joined(lines)) == "cycle-log.pressure-doubtful");
  for (std::string& line : lines) line = line.substr(0, line.find(',')) + ",121.0,2050";  // mbar for kPa
  CHECK(errors_of(joined(lines)) == "cycle-log.pressure-doubtful");
}

TEST_CASE("A log of phase ends is refused as a log") {
  CHECK(errors_of(joined(rows(19))) == "cycle-log.phase-ends");
  CHECK(errors_of(joined(rows(20))) == "");
  std::vector<std::string> lines;
  for (int i = 0; i < 25; ++i) lines.push_back(std::to_string(90 * i) + ",121,205");
  CHECK(errors_of(joined(lines)) == "cycle-log.phase-ends");
}

TEST_CASE("A log whose rows lie otherwise than the mapping says is doubted") {
  LogMapping mapping = plain();
  mapping.nominal_seconds = 30;  // a gap of a minute would go unseen
  CHECK(errors_of(mapping, joined(rows())) == "cycle-log.interval-doubtful");
  mapping.nominal_seconds = 0.5;
  CHECK(errors_of(mapping, joined(rows())) == "cycle-log.interval-doubtful");
}

TEST_CASE("A long gap in a short log is a gap and no other doubt") {
  auto lines = rows();
  for (std::size_t i = 15; i < lines.size(); ++i) lines[i] = std::to_string(7200 + 2 * i) + ",121.0,205.0";
  const auto log = read_log(plain(), joined(lines), 121);
  REQUIRE(log.summary);
  CHECK(log.findings.gap_count == 1);
}

TEST_CASE("Nothing is handed on after an error") {
  std::size_t taken = 0;
  CycleLogReader reader{plain(), [&taken](const core::CycleSample&) { ++taken; }};
  reader.feed(with_row(3, "x,121.0,205.0"));
  CHECK(taken == 3);
  CHECK_FALSE(reader.finish());
}

}  // namespace
}  // namespace loadlight::exchange
