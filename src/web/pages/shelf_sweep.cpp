#include <algorithm>
#include <chrono>

#include "web/package_view.h"
#include "web/pages/pages.h"
#include "web/pages/shelf_view.h"
#include "web/shelf_audits.h"

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;

constexpr std::chrono::seconds kEndIsAwaited{8};
constexpr std::size_t kLongestKey = 64;

std::shared_ptr<ShelfAudit> sweep_of(const Visit& visit) {
  return visit.desk.kept<ShelfAudits>().find(visit.parameter("sweep"));
}

const Failure kGone{FailureCode::JobUnknown, {}, {}};

// The picture by the name it has for whoever sent it.
Failure named(const Visit& visit, Failure failure, const std::string& file) {
  const std::string name = file.empty() ? visit.word("page.shelf.photograph") : file;
  failure.details.insert(failure.details.begin(), {"path", name});
  return failure;
}

// Decodes what was sent and has the audit look at it.
Response posted_frame(Visit& visit, const std::string& file) {
  const auto audit = sweep_of(visit);
  if (!audit || audit->over() || visit.asked("key").substr(0, kLongestKey) != audit->key()) return visit.failed(kGone);
  const auto seeing = visit.desk.seeing();
  if (!seeing) return visit.failed(seeing.failure());
  const std::string& body = visit.request.body;
  auto picture = (*seeing)->pictures->decode({reinterpret_cast<const std::uint8_t*>(body.data()), body.size()});
  if (!picture) return visit.failed(named(visit, picture.failure(), file));
  const int width = picture->width, height = picture->height;
  const auto progress = audit->post(std::move(*picture), file);
  if (!progress) return visit.failed(progress.failure());
  View view = progress_view(visit, *progress);
  view["width"] = width;
  view["height"] = height;
  return visit.json(view);
}

Response progress_of(const Visit& visit, const ShelfAudit& audit) {
  View view = progress_view(visit, audit.progress());
  view["over"] = audit.over();
  return visit.json(view);
}

View running_view(const Visit& visit, const ShelfAudit& audit) {
  View view = progress_view(visit, audit.progress());
  const std::string path = "/shelf/" + audit.name();
  view["end"] = visit.form_for(path + "/end");
  view["path"] = path;
  view["takes_frames"] = audit.takes_frames();
  view["who"] = audit.operator_code();
  view["source"] = source_text(visit, audit.source());
  return view;
}

View unreadable_view(const Visit& visit, const std::string& path, const app::AuditReply& reply) {
  View list = View::array();
  for (std::size_t i = 0; i < reply.unreadable.size(); ++i) {
    const app::UnreadableSymbol& symbol = reply.unreadable[i];
    core::Details gaps{{"frame", std::to_string(symbol.frame)}};
    if (!symbol.file.empty()) gaps.emplace_back("file", symbol.file);
    list.push_back({{"where", visit.word("audit.report.frame", gaps)},
                    {"picture", symbol.jpeg.empty() ? "" : path + "/unreadable/" + std::to_string(i + 1)},
                    {"width", symbol.width},
                    {"height", symbol.height}});
  }
  return list;
}

View counts_view(const app::AuditReply& reply) {
  const auto outcome = [&](core::Outcome wanted) {
    return std::count_if(reply.packages.begin(), reply.packages.end(),
                         [=](const auto& one) { return one.reply.verdict.outcome() == wanted; });
  };
  return {{"packages", reply.packages.size()},
          {"clear", outcome(core::Outcome::Clear)},
          {"hold", outcome(core::Outcome::Hold)},
          {"do_not_use", outcome(core::Outcome::DoNotUse)},
          {"not_seen", reply.not_seen.size()},
          {"unreadable", reply.unreadable.size() + static_cast<std::size_t>(reply.unreadable_beyond)},
          {"others", reply.other_symbols}};
}

std::string swept_text(const app::AuditReply& reply) {
  std::string text;
  for (const std::string& place : reply.swept) text += (text.empty() ? "" : ", ") + place;
  return text;
}

View ended_view(const Visit& visit, const ShelfAudit& audit, const app::AuditReply& reply, const port::Zone& zone) {
  const std::string path = "/shelf/" + audit.name();
  View view = findings_view(visit, reply);
  view["path"] = path;
  view["swept"] = swept_text(reply);
  view["who"] = reply.operator_code;
  view["begun"] = time_text(visit, zone, reply.begun_at);
  view["source"] = source_text(visit, audit.source());
  view["counts"] = counts_view(reply);
  view["interrupted"] = reply.interrupted;
  if (reply.trouble) view["trouble"] = visit.failure_view(*reply.trouble);
  if (reply.interrupted && audit.upload()) view["again"] = visit.form_for(path + "/go-on");
  if (reply.interrupted && !audit.upload()) {
    view["resume"] = "/shelf?location=" + url_escaped(reply.location) + "&source=" + url_escaped(audit.source());
  }
  view["not_seen"] = not_seen_view(visit, reply);
  view["any_not_seen"] = !reply.not_seen.empty();
  view["not_seen_title"] =
      visit.word("page.shelf.not-seen-title", {{"count", std::to_string(reply.not_seen.size())}});
  view["unreadable"] = unreadable_view(visit, path, reply);
  view["any_unreadable"] = !reply.unreadable.empty();
  view["nothing_seen"] = reply.packages.empty();
  view["nothing_to_pull"] = !reply.packages.empty() && view["to_pull"] == 0;
  return view;
}

}  // namespace

Response sweep_frame(Visit& visit) {
  return posted_frame(visit, {});
}

Response sweep_photograph(Visit& visit) {
  const std::string name = upload_name(visit.asked("name"));
  return posted_frame(visit, name.empty() ? visit.word("page.shelf.photograph") : name);
}

Response end_sweep(Visit& visit) {
  const auto audit = sweep_of(visit);
  if (!audit) return visit.failed(kGone);
  audit->wish(visit.field("how") == "later" ? ShelfAudit::Wish::Later : ShelfAudit::Wish::Finish);
  audit->wait_over(kEndIsAwaited);
  return visit.go_to("/shelf/" + audit->name());
}

Response sweep_page(Visit& visit) {
  const auto audit = sweep_of(visit);
  if (!audit) return visit.failed(kGone);
  if (visit.wants_json()) return progress_of(visit, *audit);
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto reply = audit->reply();
  const auto name = audit->begun();
  if (!name) return visit.failed(name.failure());
  View view{{"title", visit.word("page.shelf.sweep-title", {{"audit", *name}})}, {"at", "/shelf"}};
  if (reply) {
    view["ended"] = ended_view(visit, *audit, *reply, *(*office)->zone);
  } else {
    view["running"] = running_view(visit, *audit);
  }
  return visit.page("pages/shelf-sweep", std::move(view));
}

}  // namespace loadlight::web
