#include "web/package_view.h"

namespace loadlight::web {
namespace {

constexpr std::size_t kDayLength = 11;  // of "2026-11-25 14:03", with the blank

std::string grouped(const std::string& id) {
  const auto parsed = core::PackageId::parse_typed(id);
  return parsed ? parsed->grouped() : id;
}

View notes_view(const Visit& visit, const app::CheckReply& reply, bool typed) {
  core::Details details{{"package", grouped(reply.older_one.value_or(""))},
                        {"date", reply.use_by ? day_text(visit, *reply.use_by) : std::string{}}};
  if (reply.from_copy) {
    details.emplace_back("moment", reply.from_copy->moment);
    details.emplace_back("minutes", std::to_string(reply.from_copy->minutes));
  }
  View notes = View::array();
  for (const core::Note note : reply.verdict.notes()) {
    if (note == core::Note::CompareByEye && !typed) continue;
    notes.push_back(visit.word("note." + code_text(note) + ".text", details));
  }
  return notes;
}

}  // namespace

View outcome_view(const Visit& visit, core::Outcome outcome) {
  const std::string code = code_text(outcome);
  return {{"outcome", code},
          {"clear", outcome == core::Outcome::Clear},
          {"hold", outcome == core::Outcome::Hold},
          {"do_not_use", outcome == core::Outcome::DoNotUse},
          {"outcome_word", visit.word("outcome." + code)},
          {"advice", visit.word("check.advice." + code)}};
}

View reasons_view(const Visit& visit, const core::Verdict& verdict) {
  View reasons = View::array();
  for (const core::Reason reason : verdict.reasons()) {
    const std::string code = code_text(reason);
    const std::string here = "reason." + code + ".at-station";  // where the command line's advice is no use
    const std::string action = visit.language.words.has(here) ? here : "reason." + code + ".action";
    reasons.push_back({{"code", code},
                       {"text", visit.word("reason." + code + ".text")},
                       {"action", visit.word(action)}});
  }
  return reasons;
}

View check_view(const Visit& visit, const app::CheckReply& reply) {
  View view = outcome_view(visit, reply.verdict.outcome());
  view["package"] = reply.package.value_or("");
  view["package_grouped"] = reply.package ? grouped(*reply.package) : "";
  view["load"] = reply.load ? reply.load->text() : "";
  view["contents"] = reply.contents_name.empty() ? reply.contents : reply.contents_name;
  view["process_date"] = reply.process_date ? day_text(visit, *reply.process_date) : "";
  view["use_by"] = reply.use_by ? day_text(visit, *reply.use_by) : "";
  view["no_use_by"] = reply.process_date && !reply.use_by;
  view["location"] = reply.location.value_or("");
  view["reasons"] = reasons_view(visit, reply.verdict);
  view["notes"] = notes_view(visit, reply, true);
  return view;
}

View own_page_view(const Visit& visit, const app::CheckReply& reply) {
  View view = check_view(visit, reply);
  view["notes"] = notes_view(visit, reply, false);
  return view;
}

std::string day_text(const Visit& visit, core::CivilDate day) {
  const auto parts = day.calendar();
  const std::string month = std::to_string(static_cast<unsigned>(parts.month()));
  return visit.word("date.day", {{"day", std::to_string(static_cast<unsigned>(parts.day()))},
                                 {"month", visit.word("date.month." + month)},
                                 {"year", std::to_string(static_cast<int>(parts.year()))}});
}

std::string time_text(const Visit& visit, const port::Zone& zone, core::Instant at) {
  return visit.word("date.time", {{"time", zone.local_text(at).substr(kDayLength)}, {"day", day_text(visit, zone.local_date(at))}});
}

}  // namespace loadlight::web
