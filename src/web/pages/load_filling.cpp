// What goes into a load: packages past a camera or a scanner, trays without labels, and out again.
#include "loadlight/app/load_life.h"
#include "web/form_values.h"
#include "web/load_scans.h"
#include "web/package_view.h"
#include "web/pages/load_page.h"
#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

using How = ScanAnswer::How;

constexpr port::ReadBudget kFrameBudget{std::chrono::milliseconds{250}, port::Effort::Quick, 1};

std::string how_code(How how) {
  switch (how) {
    case How::Taken:
      return "taken";
    case How::Doubled:
      return "doubled";
    case How::Refused:
      return "refused";
  }
  return "refused";
}

// What a scan came to, in words: "how", "package", "contents", "text", "action", "items", "replace".
View answer_view(const Visit& visit, const app::Ports& ports, const core::LoadName& load,
                 const ScanAnswer& answer) {
  View view{{"how", how_code(answer.how)}, {"package", ""}, {"contents", ""}, {"replace", ""}};
  if (answer.package) {
    view["package"] = answer.package->id.grouped();
    view["contents"] = contents_name(ports, answer.package->contents);
  }
  const core::Details details{{"load", load.text()}};
  if (answer.how != How::Refused) {
    view["text"] = visit.word("load.scan." + how_code(answer.how), details);
    return view;
  }
  view.update(visit.failure_view(answer.failure));
  if (answer.package && answer.failure.code == core::FailureCode::LabelsNameAnother) {
    view["replace"] = replace_link(answer.package->id, load);
    view["replace_text"] = visit.word("load.scan.replace");
  }
  return view;
}

View seen_view(Visit& visit, const app::Ports& ports, const core::LoadName& load, const std::string& text) {
  const auto now = std::chrono::steady_clock::now();
  const std::string camera =
      visit.cookie + " " + load.text() + " " + std::string{visit.asked("camera").substr(0, 40)};
  auto& scans = visit.desk.kept<LoadScans>();
  const auto known = scans.in_view(camera, text, now);
  const ScanAnswer answer = known ? *known : add_scanned(ports, visit.operator_code(), load, text);
  if (!known) scans.keep(camera, text, answer, now);
  View view = answer_view(visit, ports, load, answer);
  view["is_new"] = !known;
  return view;
}

Response back_to(const Visit& visit, const core::LoadName& load, std::string_view done,
                 const core::Details& details = {}) {
  return visit.go_to("/loads/" + load.text(), done, details);
}

}  // namespace

Response add_by_frame(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto load = load_of(visit);
  if (!load) return visit.failed(load.failure());
  const auto seeing = visit.desk.seeing();
  if (!seeing) return visit.failed(seeing.failure());
  const std::string& body = visit.request.body;
  const auto picture =
      (*seeing)->pictures->decode({reinterpret_cast<const std::uint8_t*>(body.data()), body.size()});
  if (!picture) return visit.failed(picture.failure());
  View symbols = View::array();
  for (const auto& symbol : (*seeing)->reader->look(picture->view(), kFrameBudget).read) {
    View view = seen_view(visit, (*office)->ports, *load, symbol.text);
    for (const port::PixelPoint& p : symbol.corners) view["corners"].push_back({p.x, p.y});
    symbols.push_back(std::move(view));
  }
  return visit.json({{"width", picture->width}, {"height", picture->height}, {"symbols", symbols}});
}

Response add_by_text(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto load = load_of(visit);
  if (!load) return visit.failed(load.failure());
  const std::string text = text_of(visit, "text").substr(0, port::kLongestLine);
  const ScanAnswer answer = add_scanned((*office)->ports, visit.operator_code(), *load, text);
  const View view = answer_view(visit, (*office)->ports, *load, answer);
  if (visit.wants_json()) return visit.json({{"results", View::array({view})}});
  if (answer.how == How::Refused) return visit.failed(answer.failure);
  return back_to(visit, *load, "load-" + how_code(answer.how),
                 {{"package", view["package"]}, {"load", load->text()}});
}

Response remove_package(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto load = load_of(visit);
  if (!load) return visit.failed(load.failure());
  const std::string package = text_of(visit, "package");
  const auto removed = app::remove_from_load((*office)->ports, {visit.operator_code(), *load, {package}, {}});
  if (!removed) return visit.failed(removed.failure());
  return back_to(visit, *load, "load-removed", {{"package", package}, {"load", load->text()}});
}

Response add_loose(Visit& visit) {
  const auto office = visit.desk.office();
  if (!office) return visit.failed(office.failure());
  const auto load = load_of(visit);
  if (!load) return visit.failed(load.failure());
  const auto count = whole_of(visit, "count");
  if (!count) return visit.failed(count.failure());
  const std::string contents = text_of(visit, "contents");
  const auto added =
      app::add_to_load((*office)->ports, {visit.operator_code(), *load, {}, {{contents, *count}}});
  if (!added) return visit.failed(added.failure());
  return back_to(visit, *load, "load-loose", {{"contents", contents_name((*office)->ports, contents)}});
}

}  // namespace loadlight::web
