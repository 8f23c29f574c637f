#include "cli/audit_answers.h"

#include <algorithm>
#include <cmath>

#include "cli/answers.h"

namespace loadlight::cli {
namespace {

std::string code_text(auto code) {
  return std::string{core::to_text(code)};
}

std::string grouped(const std::string& id) {
  const auto package = core::PackageId::parse_exact(id);
  return package ? package->grouped() : id;
}

Json corners_json(const port::Corners& corners) {
  Json list = Json::array();
  for (const port::PixelPoint& corner : corners) list.push_back({corner.x, corner.y});
  return list;
}

Json file_json(const std::string& file) {
  return file.empty() ? Json(nullptr) : Json(file);
}

Json package_json(const Context& context, const app::AuditedPackage& package) {
  const app::CheckReply& reply = package.reply;
  return {{"package", optional_text(reply.package)},
          {"outcome", code_text(reply.verdict.outcome())},
          {"reasons", reasons_json(context, reply.verdict)},
          {"notes", notes_json(reply.verdict)},
          {"status", code_text(package.status)},
          {"how", code_text(package.how)},
          {"seen_at", package.seen_at},
          {"expected_at", optional_text(package.expected_at)},
          {"load", reply.load ? Json(reply.load->text()) : Json(nullptr)},
          {"contents", reply.contents.empty() ? Json(nullptr) : Json(reply.contents)},
          {"contents_name", reply.contents_name.empty() ? Json(nullptr) : Json(reply.contents_name)},
          {"process_date", date_json(reply.process_date)},
          {"use_by", date_json(reply.use_by)},
          {"sightings", package.sightings},
          {"first_frame", package.first_frame},
          {"file", file_json(package.first_file)},
          {"corners", corners_json(package.corners)}};
}

std::string package_line(const Context& context, const app::AuditedPackage& package) {
  const app::CheckReply& reply = package.reply;
  const core::Details gaps{
      {"outcome", context.text("outcome." + code_text(reply.verdict.outcome()))},
      {"package", reply.package ? grouped(*reply.package) : context.text("line.audit.no-id")},
      {"contents", reply.contents_name.empty() ? reply.contents : reply.contents_name}};
  std::string line = context.text("line.audit.package", gaps);
  if (package.status == core::AuditStatus::Present) return line;
  core::Details places{{"at", package.seen_at}};
  if (package.expected_at) places.emplace_back("expected", *package.expected_at);
  return line + context.text("line.audit." + code_text(package.status), places);
}

void answer_package(const Context& context, const app::AuditedPackage& package) {
  std::string text = package_line(context, package) + reasons_text(context, package.reply.verdict);
  const core::Details gaps{{"package", grouped(package.reply.older_one.value_or(""))},
                           {"date", package.reply.use_by ? package.reply.use_by->iso() : std::string{}}};
  for (const core::Note note : package.reply.verdict.notes()) {
    if (note == core::Note::CheckWithEyes) continue;  // of every package: said once, in the summary
    text += "\n  * " + context.text("note." + code_text(note) + ".text", gaps);
  }
  context.answer(package_json(context, package), text);
}

void answer_missing(const Context& context, const app::NotSeenPackage& missing) {
  const core::Package& package = missing.package;
  const Json object{{"package", package.id.text()},
                    {"status", "not-seen"},
                    {"expected_at", optional_text(package.location)},
                    {"load", package.load.text()},
                    {"contents", package.contents},
                    {"contents_name", missing.contents_name},
                    {"process_date", package.process_date.iso()},
                    {"use_by", date_json(package.use_by)}};
  context.answer(object, context.text("line.audit.not-seen", {{"package", package.id.grouped()},
                                                              {"contents", missing.contents_name},
                                                              {"location", package.location.value_or("")},
                                                              {"date", package.process_date.iso()}}));
}

void answer_unreadable(const Context& context, const app::UnreadableSymbol& symbol) {
  const Json object{{"status", "unreadable"},
                    {"frame", symbol.frame},
                    {"file", file_json(symbol.file)},
                    {"corners", corners_json(symbol.corners)}};
  core::Details gaps{{"frame", std::to_string(symbol.frame)}};
  if (!symbol.file.empty()) gaps.emplace_back("file", symbol.file);
  context.answer(object, context.text("line.audit.unreadable", gaps));
}

template <class Test>
long count_if(const app::AuditReply& reply, Test test) {
  return std::count_if(reply.packages.begin(), reply.packages.end(), test);
}

Json summary_json(const app::AuditReply& reply) {
  const auto outcome = [&](core::Outcome wanted) {
    return count_if(reply, [=](const auto& one) { return one.reply.verdict.outcome() == wanted; });
  };
  const auto status = [&](core::AuditStatus wanted) {
    return count_if(reply, [=](const auto& one) { return one.status == wanted; });
  };
  const auto near = [](const app::AuditedPackage& one) {
    const auto& notes = one.reply.verdict.notes();
    return std::find(notes.begin(), notes.end(), core::Note::NearUseBy) != notes.end();
  };
  return {{"audit", reply.audit},
          {"location", reply.location},
          {"swept", reply.swept},
          {"packages", reply.packages.size()},
          {"clear", outcome(core::Outcome::Clear)},
          {"hold", outcome(core::Outcome::Hold)},
          {"do-not-use", outcome(core::Outcome::DoNotUse)},
          {"present", status(core::AuditStatus::Present)},
          {"misplaced", status(core::AuditStatus::Misplaced)},
          {"unexpected", status(core::AuditStatus::Unexpected)},
          {"matched", count_if(reply, [](const auto& one) { return one.how == core::SeenHow::Matched; })},
          {"near_use_by", count_if(reply, near)},
          {"not-seen", reply.not_seen.size()},
          {"unreadable", reply.unreadable.size() + static_cast<std::size_t>(reply.unreadable_beyond)},
          {"other_symbols", reply.other_symbols},
          {"frames", reply.frames},
          {"seconds", reply.seconds},
          {"interrupted", reply.interrupted}};
}

}  // namespace

void answer_audit(const Context& context, const app::AuditReply& reply) {
  for (const auto& package : reply.packages) answer_package(context, package);
  for (const auto& missing : reply.not_seen) answer_missing(context, missing);
  for (const auto& symbol : reply.unreadable) answer_unreadable(context, symbol);
}

void answer_audit_summary(const Context& context, const app::AuditReply& reply) {
  const Json counts = summary_json(reply);
  core::Details gaps;
  for (const auto& [name, count] : counts.items()) {
    if (count.is_number_integer()) gaps.emplace_back(name, std::to_string(count.get<long>()));
  }
  gaps.emplace_back("audit", reply.audit);
  context.answer({{"summary", counts}}, context.text("line.audit.summary", gaps));
  if (reply.interrupted) context.tell(context.text("line.audit.interrupted"));
}

void tell_sighting(const Context& context, const app::AuditedPackage& package) {
  context.tell(package_line(context, package));
}

void tell_progress(const Context& context, const app::AuditProgress& progress) {
  core::Details gaps{{"frame", std::to_string(progress.frame)},
                     {"packages", std::to_string(progress.packages)}};
  if (progress.frames > 0) gaps.emplace_back("frames", std::to_string(progress.frames));
  if (progress.seconds_left > 0) {
    gaps.emplace_back("seconds", std::to_string(static_cast<long>(std::ceil(progress.seconds_left))));
  }
  context.tell(context.text("line.audit.progress", gaps));
}

void tell_hints(const Context& context, const app::AuditProgress& progress) {
  core::Details gaps;
  if (progress.usable_width) {
    gaps.emplace_back("centimetres", std::to_string(static_cast<int>(*progress.usable_width / 10)));
  }
  for (const core::SweepHint hint : progress.hints) {
    context.tell(context.text("line.audit.hint." + code_text(hint), gaps));
  }
}

core::Outcome worst_of(const app::AuditReply& reply) {
  core::Outcome worst = core::Outcome::Clear;
  for (const auto& package : reply.packages) worst = std::max(worst, package.reply.verdict.outcome());
  return worst;
}

}  // namespace loadlight::cli
