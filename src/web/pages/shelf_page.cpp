#include <algorithm>

#include "loadlight/app/list_audits.h"
#include "web/package_view.h"
#include "web/pages/pages.h"
#include "web/pages/shelf_view.h"
#include "web/shelf_audits.h"

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr std::size_t kNewest = 12;  // audits listed

struct Leaves final {
  std::shared_ptr<app::OpenOffice> office;
  const app::SeeingLeaves* seeing = nullptr;
  const app::OpenShop* shop = nullptr;
};

Result<Leaves> leaves_of(const Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return office.failure();
  const auto seeing = visit.desk.seeing();
  if (!seeing) return seeing.failure();
  const auto shop = visit.desk.shop(visit.language);
  if (!shop) return shop.failure();
  return Leaves{*office, *seeing, *shop};
}

AuditPlan plan_of(const Visit& visit, const Leaves& leaves, std::string location, std::string source, bool resume) {
  AuditPlan plan{leaves.office,
                 {*leaves.seeing->reader, *leaves.seeing->pictures, *leaves.shop->leaves.encoder},
                 {},
                 nullptr,
                 nullptr};
  plan.request.location = std::move(location);
  plan.request.operator_code = visit.operator_code();
  plan.request.source = std::move(source);
  plan.request.resume = resume;
  plan.request.find_template = [&world = visit.desk.world()](std::string_view name) {
    return app::find_template(world, name);
  };
  return plan;
}

// An audit that stands in the ledger.
Result<std::shared_ptr<ShelfAudit>> begun(const Visit& visit, AuditPlan plan) {
  const auto audit = visit.desk.kept<ShelfAudits>().begin(std::move(plan));
  if (!audit) return audit.failure();
  const auto name = (*audit)->begun();
  if (!name) return name.failure();
  return *audit;
}

Result<std::shared_ptr<ShelfAudit>> sweep_video(const Visit& visit, std::shared_ptr<UploadedFile> upload,
                                                const std::string& location, const std::string& name, bool resume) {
  const auto leaves = leaves_of(visit);
  if (!leaves) return leaves.failure();
  AuditPlan plan = plan_of(visit, *leaves, location, name, resume);
  auto frames = leaves->seeing->videos->open(upload->path());
  if (!frames) {
    Failure failure = frames.failure();
    for (auto& [key, value] : failure.details) value = key == "path" ? name : value;
    return failure;
  }
  plan.frames = std::move(*frames);
  plan.upload = std::move(upload);
  return begun(visit, std::move(plan));
}

View location_view(const core::Location& location, std::string_view chosen) {
  return {{"code", location.code}, {"name", location.name}, {"chosen", location.code == chosen}};
}

Result<View> locations_of(const Visit& visit, const port::Unit& unit) {
  const auto all = unit.locations().all();
  if (!all) return all.failure();
  View list = View::array();
  for (const core::Location& location : *all) {
    if (!location.retired_on) list.push_back(location_view(location, visit.asked("location")));
  }
  return list;
}

View running_of(const Visit& visit) {
  View list = View::array();
  for (const auto& audit : visit.desk.kept<ShelfAudits>().all()) {
    if (audit->over()) continue;
    list.push_back({{"link", "/shelf/" + audit->name()},
                    {"location", audit->location()},
                    {"source", source_text(visit, audit->source())},
                    {"who", audit->operator_code()},
                    {"packages", audit->progress().packages}});
  }
  return list;
}

// The address of a past audit's report, while this station still has it.
std::string report_of(const Visit& visit, const std::string& name) {
  for (const auto& audit : visit.desk.kept<ShelfAudits>().all()) {
    const auto reply = audit->reply();
    if (reply && reply->audit == name) return "/shelf/" + audit->name();
  }
  return "";
}

bool goes_on(const Visit& visit, const app::PastAudit& past) {
  const auto all = visit.desk.kept<ShelfAudits>().all();
  return std::any_of(all.begin(), all.end(), [&](const auto& audit) {
    const auto name = audit->over() ? core::Result<std::string>{std::string{}} : audit->begun();
    return name && *name == past.audit;
  });
}

View past_view(const Visit& visit, const port::Zone& zone, const app::PastAudit& past) {
  const bool running = !past.ended_at && goes_on(visit, past);
  View view{{"audit", past.audit},
            {"location", past.location},
            {"source", source_text(visit, past.source)},
            {"who", past.begun_by},
            {"begun", time_text(visit, zone, past.begun_at)},
            {"ended", past.ended_at.has_value()},
            {"running", running},
            {"cut_off", !past.ended_at && !running},
            {"packages", past.packages},
            {"not_seen", past.not_seen},
            {"unreadable", past.unreadable},
            {"link", report_of(visit, past.audit)},
            {"resume", ""}};
  if (past.to_be_resumed && !running) {
    view["resume"] = "/shelf?location=" + url_escaped(past.location) + "&source=" + url_escaped(past.source);
  }
  return view;
}

Result<View> newest_of(const Visit& visit, const app::Ports& ports) {
  const auto audits = app::newest_audits(ports, kNewest);
  if (!audits) return audits.failure();
  View list = View::array();
  for (const app::PastAudit& past : *audits) list.push_back(past_view(visit, ports.zone, past));
  return list;
}


}  // namespace

Response shelf_page(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto unit = (*office)->ports.store.begin(port::Access::Read);
  if (!unit) return visit.failed(unit.failure());
  const auto locations = locations_of(visit, **unit);
  if (!locations) return visit.failed(locations.failure());
  const auto newest = newest_of(visit, (*office)->ports);
  if (!newest) return visit.failed(newest.failure());
  const std::string source{visit.asked("source")};
  const View running = running_of(visit);
  View view{{"title", visit.word("page.shelf.title")},
            {"at", "/shelf"},
            {"locations", *locations},
            {"no_locations", locations->empty()},
            {"running", running},
            {"any_running", !running.empty()},
            {"newest", *newest},
            {"any_newest", !newest->empty()},
            {"signed_in", visit.who.has_value()},
            {"begin", visit.form_for("/shelf/begin")},
            {"video_token", visit.desk.seal().token(visit.cookie, "/shelf/video")},
            {"resume", source.empty() ? View{} : View{{"source", source}, {"text", source_text(visit, source)},
                                                      {"location", std::string{visit.asked("location")}}}}};
  return visit.page("pages/shelf", std::move(view));
}

Response begin_sweep(Visit& visit) {
  const std::string source{visit.field("source") == kPhotographs ? kPhotographs : kStationCamera};
  const auto leaves = leaves_of(visit);
  if (!leaves) return visit.failed(leaves.failure());
  const bool resume = visit.field("resume") == "1";
  const auto audit =
      begun(visit, plan_of(visit, *leaves, std::string{visit.field("location")}, source, resume));
  if (!audit) return visit.failed(audit.failure());
  const std::string path = "/shelf/" + (*audit)->name();
  const auto token = [&](const std::string& to) { return visit.desk.seal().token(visit.cookie, path + to); };
  return visit.json({{"page", path},
                     {"audit", *(*audit)->begun()},
                     {"key", (*audit)->key()},
                     {"frame_token", token("/frame")},
                     {"photograph_token", token("/photograph")},
                     {"end_token", token("/end")}});
}

Response begin_video(Visit& visit) {
  std::string name = upload_name(visit.asked("name"));
  if (name.empty()) name = "video";
  // Without a byte there is no file either.
  if (!visit.request.upload) {
    return visit.failed({FailureCode::VideoUnreadable, {{"path", name}, {"problem", "empty"}}, {}});
  }
  const auto audit = sweep_video(visit, visit.request.upload, std::string{visit.asked("location")}, name,
                                 visit.asked("resume") == "1");
  if (!audit) return visit.failed(audit.failure());
  return visit.go_to("/shelf/" + (*audit)->name());
}

Response go_on_with_sweep(Visit& visit) {
  const auto earlier = visit.desk.kept<ShelfAudits>().find(visit.parameter("sweep"));
  if (!earlier || !earlier->upload()) return visit.failed({FailureCode::JobUnknown, {}, {}});
  const auto audit = sweep_video(visit, earlier->upload(), earlier->location(), earlier->source(), true);
  if (!audit) return visit.failed(audit.failure());
  return visit.go_to("/shelf/" + (*audit)->name());
}

}  // namespace loadlight::web
