#include "web/audit_lines.h"

#include <algorithm>

#include "web/page_templates.h"

namespace loadlight::web {
namespace {

std::string code(auto value) {
  return std::string{core::to_text(value)};
}

View known(const std::string& text) {
  return text.empty() ? View(nullptr) : View(text);
}
View known(const std::optional<std::string>& text) {
  return text ? View(*text) : View(nullptr);
}
View known(const std::optional<core::CivilDate>& day) {
  return day ? View(day->iso()) : View(nullptr);
}

View corners_of(const port::Corners& corners) {
  View list = View::array();
  for (const port::PixelPoint& corner : corners) list.push_back({corner.x, corner.y});
  return list;
}

View reasons_of(const report::Words& words, const core::Verdict& verdict) {
  View list = View::array();
  for (const core::Reason reason : verdict.reasons()) {
    const std::string key = "reason." + code(reason);
    list.push_back(
        {{"code", code(reason)}, {"text", words.text(key + ".text")}, {"action", words.text(key + ".action")}});
  }
  return list;
}

View notes_of(const core::Verdict& verdict) {
  View list = View::array();
  for (const core::Note note : verdict.notes()) list.push_back(code(note));
  return list;
}

View package_line(const report::Words& words, const app::AuditedPackage& package) {
  const app::CheckReply& reply = package.reply;
  return {{"package", known(reply.package)},
          {"outcome", code(reply.verdict.outcome())},
          {"reasons", reasons_of(words, reply.verdict)},
          {"notes", notes_of(reply.verdict)},
          {"status", code(package.status)},
          {"how", code(package.how)},
          {"seen_at", package.seen_at},
          {"expected_at", known(package.expected_at)},
          {"load", reply.load ? View(reply.load->text()) : View(nullptr)},
          {"contents", known(reply.contents)},
          {"contents_name", known(reply.contents_name)},
          {"process_date", known(reply.process_date)},
          {"use_by", known(reply.use_by)},
          {"sightings", package.sightings},
          {"first_frame", package.first_frame},
          {"file", known(package.first_file)},
          {"corners", corners_of(package.corners)}};
}

View missing_line(const app::NotSeenPackage& missing) {
  const core::Package& package = missing.package;
  return {{"package", package.id.text()},
          {"status", "not-seen"},
          {"expected_at", known(package.location)},
          {"load", package.load.text()},
          {"contents", package.contents},
          {"contents_name", missing.contents_name},
          {"process_date", package.process_date.iso()},
          {"use_by", known(package.use_by)}};
}

View unreadable_line(const app::UnreadableSymbol& symbol) {
  return {{"status", "unreadable"},
          {"frame", symbol.frame},
          {"file", known(symbol.file)},
          {"corners", corners_of(symbol.corners)}};
}

View summary_line(const app::AuditReply& reply) {
  const auto count = [&reply](auto test) { return std::count_if(reply.packages.begin(), reply.packages.end(), test); };
  const auto outcome = [&](core::Outcome wanted) {
    return count([=](const auto& one) { return one.reply.verdict.outcome() == wanted; });
  };
  const auto status = [&](core::AuditStatus wanted) {
    return count([=](const auto& one) { return one.status == wanted; });
  };
  const auto near = [](const app::AuditedPackage& one) {
    const auto& notes = one.reply.verdict.notes();
    return std::find(notes.begin(), notes.end(), core::Note::NearUseBy) != notes.end();
  };
  const View counts{{"audit", reply.audit},
                    {"location", reply.location},
                    {"swept", reply.swept},
                    {"packages", reply.packages.size()},
                    {"clear", outcome(core::Outcome::Clear)},
                    {"hold", outcome(core::Outcome::Hold)},
                    {"do-not-use", outcome(core::Outcome::DoNotUse)},
                    {"present", status(core::AuditStatus::Present)},
                    {"misplaced", status(core::AuditStatus::Misplaced)},
                    {"unexpected", status(core::AuditStatus::Unexpected)},
                    {"matched", count([](const auto& one) { return one.how == core::SeenHow::Matched; })},
                    {"near_use_by", count(near)},
                    {"not-seen", reply.not_seen.size()},
                    {"unreadable", reply.unreadable.size() + static_cast<std::size_t>(reply.unreadable_beyond)},
                    {"other_symbols", reply.other_symbols},
                    {"frames", reply.frames},
                    {"seconds", reply.seconds},
                    {"interrupted", reply.interrupted}};
  return {{"summary", counts}};
}

}  // namespace

std::string audit_lines(const report::Words& words, const app::AuditReply& reply) {
  std::string lines;
  const auto add = [&lines](const View& line) {
    lines += line.dump(-1, ' ', false, View::error_handler_t::replace) + "\n";
  };
  for (const auto& package : reply.packages) add(package_line(words, package));
  for (const auto& missing : reply.not_seen) add(missing_line(missing));
  for (const auto& symbol : reply.unreadable) add(unreadable_line(symbol));
  add(summary_line(reply));
  return lines;
}

}  // namespace loadlight::web
