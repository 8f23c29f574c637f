#include "web/load_view.h"

#include <array>
#include <charconv>
#include <cmath>

#include "web/package_view.h"

namespace loadlight::web {
namespace {

using core::LoadState;

constexpr std::string_view kSteps[] = {"open", "running", "finished", "decided"};

// The step that a load of this state stands at.
std::size_t step_of(LoadState state) {
  switch (state) {
    case LoadState::Reserved:
    case LoadState::Open:
      return 0;
    case LoadState::Running:
      return 1;
    case LoadState::Finished:
    case LoadState::Quarantined:
      return 2;
    case LoadState::Released:
    case LoadState::Failed:
    case LoadState::Aborted:
    case LoadState::Revoked:
    case LoadState::Recalled:
      return 3;
  }
  return 0;
}

// The first of these keys that the catalogue has.
std::string first_word(const Visit& visit, std::initializer_list<std::string> keys) {
  for (const std::string& key : keys) {
    if (visit.language.words.has(key)) return visit.word(key);
  }
  return visit.word(*(keys.end() - 1));
}

std::string with_unit(const Visit& visit, double value, std::string_view unit) {
  return visit.word("unit." + std::string{unit}, {{"value", short_number(value)}});
}

}  // namespace

std::string short_number(double value) {
  std::array<char, 64> digits{};
  if (!std::isfinite(value) || std::abs(value) > 1e12) return "?";
  const auto end =
      std::to_chars(digits.data(), digits.data() + digits.size(), value, std::chars_format::fixed, 2);
  std::string text{digits.data(), end.ptr};
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

std::string state_word(const Visit& visit, LoadState state) {
  return visit.word("detail.state." + code_text(state));
}

std::string purpose_word(const Visit& visit, core::LoadPurpose purpose) {
  return visit.word("load.purpose." + code_text(purpose));
}

std::string program_words(const Visit& visit, const core::Program& program, const std::string& name) {
  core::Details details{
      {"name", name.empty() ? visit.word("load.kind." + code_text(program.load_kind)) : name},
      {"celsius", short_number(program.celsius)},
      {"minutes", short_number(program.exposure_minutes)}};
  if (program.drying_minutes > 0) details.emplace_back("drying", short_number(program.drying_minutes));
  return visit.word("load.program", details);
}

View load_steps(const Visit& visit, LoadState state) {
  const std::size_t at = step_of(state);
  const bool over = at + 1 == std::size(kSteps);
  View steps = View::array();
  for (std::size_t i = 0; i < std::size(kSteps); ++i) {
    const bool current = i == at;
    // The step at which it stands says how: quarantined, released, failed.
    const std::string name = current ? visit.word("load.stands." + code_text(state))
                                     : visit.word("load.step." + std::string{kSteps[i]});
    steps.push_back({{"name", name}, {"done", i < at || (current && over)}, {"current", current}});
  }
  return steps;
}

View load_line(const Visit& visit, const port::Zone& zone, const core::Load& load) {
  const bool test = load.purpose != core::LoadPurpose::Process;
  const auto when = load.decided_at ? load.decided_at : load.started_at ? load.started_at : load.opened_at;
  return {{"name", load.name.text()},
          {"state", state_word(visit, load.state)},
          {"state_code", code_text(load.state)},
          {"purpose", test ? purpose_word(visit, load.purpose) : ""},
          {"started", when ? time_text(visit, zone, *when) : ""},
          {"link", "/loads/" + load.name.text()}};
}

View criteria_view(const Visit& visit, const std::vector<core::CriterionResult>& criteria) {
  View list = View::array();
  for (const core::CriterionResult& line : criteria) {
    const std::string bound = visit.word(line.at_least ? "criterion.at-least" : "criterion.at-most");
    const std::string standing = code_text(line.standing);
    list.push_back({{"criterion", visit.word("criterion." + std::string{line.code})},
                    {"measured", line.measured ? with_unit(visit, *line.measured, line.unit) : "–"},
                    {"asked", bound + " " + with_unit(visit, line.limit, line.unit)},
                    {"standing", visit.word("standing." + standing)},
                    {"standing_code", standing},
                    {"source", line.source}});
  }
  return list;
}

View load_reasons(const Visit& visit, const core::Verdict& verdict) {
  View list = View::array();
  for (const core::Reason reason : verdict.reasons()) {
    const std::string code = code_text(reason);
    const std::string key = "reason." + code;
    list.push_back({{"code", code},
                    {"text", first_word(visit, {key + ".of-load", key + ".text"})},
                    {"action", first_word(visit, {key + ".of-load.action", key + ".at-station", key + ".action"})}});
  }
  return list;
}

View load_notes(const Visit& visit, const core::Verdict& verdict) {
  View list = View::array();
  for (const core::Note note : verdict.notes()) {
    list.push_back(visit.word("note." + code_text(note) + ".text"));
  }
  return list;
}

}  // namespace loadlight::web
