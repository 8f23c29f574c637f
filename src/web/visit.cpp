#include "web/visit.h"

#include "loadlight/app/again.h"
#include "loadlight/core/vocabulary.h"
#include "web/navigation.h"

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;

constexpr int kSeeOther = 303;

std::string dumped(const View& view) {
  return view.dump(-1, ' ', false, View::error_handler_t::replace);
}

// The sentence above a page after something was done, as "go_to" sent it along: a key and what fills its gaps.
// Only keys that begin "done." are shown, and a value is shown as text.
std::string said(const Visit& visit) {
  const std::string key = "done." + std::string{visit.asked("done")};
  if (visit.asked("done").empty() || !visit.language.words.has(key)) return {};
  core::Details details;
  for (const auto& [name, value] : visit.request.head.query.all()) {
    if (name != "done") details.emplace_back(name, value.substr(0, 200));
  }
  return visit.word(key, details);
}

// A field that has a heading on our pages is called by it.
core::Details with_headings(const Visit& visit, core::Details details) {
  for (auto& [name, value] : details) {
    const std::string heading = "column." + value;
    if (name == "field" && visit.language.words.has(heading)) value = visit.word(heading);
  }
  return details;
}

// What the page needs to lock itself, and to be opened again by the one who is signed in.
View lock_view(const Visit& visit) {
  const auto token = [&](const char* path) { return visit.desk.seal().token(visit.cookie, path); };
  return {{"left", visit.lock_left.count()},
          {"code", visit.who->code},
          {"pin", visit.word("lock.pin", {{"code", visit.who->code}})},
          {"here", token("/sign-in/here")},
          {"unlock", token("/sign-in/unlock")}};
}

View languages_of(const Visit& visit) {
  View list = View::array();
  for (const auto& [code, name] : kLanguages) {
    list.push_back({{"code", code},
                    {"name", name},
                    {"current", visit.language.code == code},
                    {"back", url_escaped(visit.request.head.path)}});
  }
  return list;
}

}  // namespace

int status_of(const Failure& failure) {
  switch (failure.code) {
    case FailureCode::SignInNeeded:
      return 401;
    case FailureCode::PinNeeded:
    case FailureCode::LeadRequired:
    case FailureCode::ReleaseNeedsLead:
    case FailureCode::EmergencyNeedsLead:
    case FailureCode::OnThisMachineOnly:
      return 403;
    case FailureCode::PageUnknown:
    case FailureCode::JobUnknown:
      return 404;
    case FailureCode::BodyTooLarge:
      return 413;
    case FailureCode::TooManyRequests:
    case FailureCode::PinWait:
      return 429;
    default:
      break;
  }
  switch (core::kind_of(failure.code)) {
    case core::FailureKind::Usage:
      return 400;
    case core::FailureKind::Refused:
      return 409;
    case core::FailureKind::Failed:
      break;
  }
  return 503;
}

std::string_view Visit::parameter(std::string_view name) const {
  const auto found = parameters.find(name);
  return found == parameters.end() ? std::string_view{} : std::string_view{found->second};
}

View Visit::form_for(std::string_view path) const {
  return {{"action", path}, {"token", desk.seal().token(cookie, path)}, {"once", random_name()}};
}

Response Visit::page(std::string_view name, View view, int status) const {
  view["language"] = language.code;
  view["languages"] = languages_of(*this);
  view["navigation"] = navigation_of(*this, view.value("at", ""));
  if (!view.contains("said")) view["said"] = said(*this);
  if (who) view["who"] = {{"code", who->code}, {"name", who->name}};
  if (who) view["lock"] = lock_view(*this);
  const auto office = desk.office();
  if (office) {
    const auto unit = (*office)->ports.store.begin(port::Access::Read);
    const auto settings = unit ? (*unit)->office() : core::Result<core::Office>{unit.failure()};
    if (settings) view["office_name"] = settings->name;
  }
  const auto text = language.pages.render_page(name, view);
  if (text) return {status, "text/html; charset=utf-8", *text, {}, {}};
  // A page that cannot be drawn says so without being drawn.
  return {500, "text/plain; charset=utf-8", word("failure.internal.text", text.failure().details), {}, {}};
}

Response Visit::piece(std::string_view name, const View& view) const {
  const auto text = language.pages.render(name, view);
  if (text) return {200, "text/html; charset=utf-8", *text, {}, {}};
  return failed(text.failure());
}

Response Visit::json(const View& view, int status) const {
  return {status, "application/json", dumped(view), {}, {}};
}

Response Visit::go_to(const std::string& path, std::string_view done, const core::Details& details) const {
  std::string target = path;
  if (!done.empty()) {
    target += (path.find('?') == std::string::npos ? "?done=" : "&done=") + url_escaped(done);
    for (const auto& [name, value] : details) target += "&" + url_escaped(name) + "=" + url_escaped(value);
  }
  if (wants_json()) return json({{"go", target}});
  return {kSeeOther, "text/plain; charset=utf-8", "", {{"Location", target}}, {}};
}

View Visit::failure_view(const Failure& failure) const {
  const std::string code{core::to_text(failure.code)};
  View items = View::array();
  for (const core::Sentence& item : failure.items) items.push_back(language.words.text(item));
  // What went wrong inside is for the machine's own log, not for who asked.
  const std::string at_station = "failure." + code + ".at-station";  // where the command line's advice is no use
  const core::Details details =
      failure.code == FailureCode::Internal ? core::Details{} : with_headings(*this, failure.details);
  return {{"error", code},
          {"text", word("failure." + code + ".text", details)},
          {"action", word(language.words.has(at_station) ? at_station : "failure." + code + ".action", details)},
          {"items", items}};
}

Response Visit::failed(const Failure& failure) const {
  View view = failure_view(failure);
  Response response = wants_json() ? json(view, status_of(failure))
                                   : page("pages/failure", {{"title", word("page.failure.title")}, {"failure", view}},
                                          status_of(failure));
  response.changed_meanwhile = app::was_changed_meanwhile(failure);
  return response;
}

Response Visit::file(std::string bytes, std::string_view content_type, std::string_view name) const {
  Response response{200, std::string{content_type}, std::move(bytes), {}, {}};
  if (!name.empty()) {
    response.headers.emplace_back("Content-Disposition", "inline; filename=\"" + url_escaped(name) + "\"");
  }
  return response;
}

}  // namespace loadlight::web
