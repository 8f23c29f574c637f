// A log mapping that an office wrote, and a log read by it: the mapping, a line "---", the log.
//
// Promises: a mapping that is taken can be used for any log, its interval and its pressure are within their bounds,
// and its columns name something; a refusal tells the problem.
#include <algorithm>
#include <cmath>

#include "fuzz_input.h"
#include "loadlight/exchange/cycle_log.h"

namespace loadlight::fuzz {
namespace {

using namespace exchange;

bool names_something(const LogColumn& column) {
  return column.number > 0 || !column.name.empty();
}

void must_hold(const LogMapping& mapping) {
  promise(mapping.nominal_seconds > 0 && mapping.nominal_seconds <= 60, "an interval within its bounds");
  promise(std::isfinite(mapping.barometric_kpa) && mapping.barometric_kpa > 0, "a pressure that can be");
  promise(mapping.skipped_lines >= 0, "no fewer lines than none are skipped");
  promise(names_something(mapping.time) && names_something(mapping.temperature), "columns name something");
  promise(!mapping.pressure || names_something(*mapping.pressure), "columns name something");
  promise(!mapping.date || names_something(*mapping.date), "columns name something");
  const auto by_name = [](const LogColumn& column) { return column.number == 0; };
  promise(mapping.header == LogHeader::Yes || (!by_name(mapping.time) && !by_name(mapping.temperature)),
          "without a header no column has a name");
}

void must_hold(const core::Failure& failure) {
  promise(failure.code == core::FailureCode::BadTemplate, "a refusal is of a template");
  bool told = false;
  for (const auto& [name, value] : failure.details) told = told || (name == "problem" && !value.empty());
  promise(told, "a refusal tells its problem");
}

void read_log(const LogMapping& mapping, std::string_view log) {
  double last = -1;
  CycleLogReader reader{mapping, [&](const core::CycleSample& sample) {
                          promise(std::isfinite(sample.seconds) && std::isfinite(sample.celsius), "numbers are finite");
                          promise(sample.seconds > last, "samples are in order");
                          last = sample.seconds;
                        }};
  reader.feed(log);
  (void)reader.finish();
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight;
  const std::string_view text = fuzz::Input{data, size}.rest();
  const auto cut = std::min(text.find("\n---\n"), text.size());
  const auto mapping = exchange::parse_mapping("fuzzed", text.substr(0, cut));
  if (!mapping) {
    fuzz::must_hold(mapping.failure());
    return 0;
  }
  fuzz::must_hold(*mapping);
  fuzz::promise(exchange::parse_mapping("fuzzed", text.substr(0, cut)).value() == *mapping, "the same text is the same mapping");
  fuzz::read_log(*mapping, text.substr(std::min(cut + 5, text.size())));
  return 0;
}
