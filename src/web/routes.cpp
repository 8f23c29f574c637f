#include "web/routes.h"

#include <algorithm>
#include <vector>

#include "web/pages/pages.h"

namespace loadlight::web {
namespace {

constexpr Method kGet = Method::Get;
constexpr Method kPost = Method::Post;

constexpr Route kRoutes[] = {
    // The frame of every page: pages/static_files.cpp, pages/live.cpp, pages/language.cpp
    {kGet, "/static/{file}", Door::Anyone, Body::None, static_file, true},
    {kGet, "/live", Door::Anyone, Body::None, live},
    {kGet, "/language", Door::Anyone, Body::None, choose_language, true},
    // Signing in and out: pages/sign_in_page.cpp
    {kGet, "/sign-in", Door::Anyone, Body::None, sign_in_page},
    {kPost, "/sign-in", Door::Anyone, Body::Form, sign_in},
    {kPost, "/sign-in/badge", Door::Anyone, Body::Form, sign_in_by_badge},
    {kPost, "/sign-in/switch", Door::Anyone, Body::Form, switch_operator},
    {kGet, "/sign-in/here", Door::Anyone, Body::None, still_here},
    {kPost, "/sign-in/here", Door::Anyone, Body::Form, still_here},
    {kPost, "/sign-in/unlock", Door::Anyone, Body::Form, unlock},
    {kPost, "/sign-out", Door::Anyone, Body::Form, sign_out},
    // The first run: pages/first_run.cpp, issued_pin.cpp
    {kGet, "/first-run", Door::Anyone, Body::None, first_run_page, true},
    {kPost, "/first-run", Door::Anyone, Body::Form, first_run, true},
    {kPost, "/first-run/demo", Door::Anyone, Body::Form, first_run_demo, true},
    {kGet, "/set-up/pin", Door::SignedIn, Body::None, issued_pin},
    {kPost, "/set-up/pin", Door::SignedIn, Body::Form, pin_noted},
    // Set-up: pages/set_up_page.cpp, table_page.cpp, entry_page.cpp, entry_acts.cpp, service_acts.cpp, profile_page.cpp
    {kGet, "/set-up", Door::SignedIn, Body::None, set_up_page},
    {kGet, "/set-up/tables/{table}", Door::Pin, Body::None, table_page},
    {kPost, "/set-up/tables/{table}/add", Door::Pin, Body::Form, add_entry},
    {kPost, "/set-up/tables/{table}/import", Door::Pin, Body::File, import_table},
    {kGet, "/set-up/tables/{table}/export", Door::Pin, Body::None, export_table},
    {kGet, "/set-up/tables/{table}/entry", Door::Pin, Body::None, entry_page},
    {kPost, "/set-up/tables/{table}/retire", Door::Pin, Body::Form, retire_entry},
    {kPost, "/set-up/operator/pin", Door::Pin, Body::Form, set_operator_pin},
    {kPost, "/set-up/stock/rate", Door::Pin, Body::Form, rate_stock},
    {kPost, "/set-up/program/accept", Door::Pin, Body::Form, accept_program},
    {kPost, "/set-up/sterilizer/service", Door::Pin, Body::Form, record_service},
    {kPost, "/set-up/sterilizer/out", Door::Pin, Body::Form, take_out_of_service},
    {kPost, "/set-up/sterilizer/return", Door::Pin, Body::Form, return_to_service},
    {kGet, "/set-up/badge", Door::Pin, Body::None, badge_paper},
    {kGet, "/set-up/shelf-tag", Door::Pin, Body::None, shelf_tag_paper},
    {kGet, "/set-up/profile", Door::SignedIn, Body::None, profile_page},
    {kPost, "/set-up/profile", Door::Pin, Body::Form, set_profile_value},
    // Set-up: pages/labels_page.cpp, backup_page.cpp
    {kGet, "/set-up/labels", Door::SignedIn, Body::None, labels_page},
    {kGet, "/set-up/labels/picture", Door::SignedIn, Body::None, label_picture},
    {kGet, "/set-up/labels/test-page", Door::SignedIn, Body::None, label_test_page},
    {kPost, "/set-up/labels/try", Door::SignedIn, Body::Form, try_template},
    {kGet, "/set-up/backup", Door::Pin, Body::None, backup_page},
    {kGet, "/set-up/backup/archive", Door::Pin, Body::None, backup_archive},
    // The keys that sign labels: pages/keys_page.cpp
    {kGet, "/set-up/keys", Door::Pin, Body::None, keys_page},
    {kPost, "/set-up/keys", Door::Pin, Body::Form, add_office_key},
    // For readers outside the office: pages/export_page.cpp
    {kGet, "/set-up/export", Door::Pin, Body::None, export_page},
    {kPost, "/set-up/export", Door::Pin, Body::Form, export_archive},
    // The machine's clock beside the record: pages/clock_page.cpp
    {kGet, "/set-up/clock", Door::SignedIn, Body::None, clock_page},
    {kPost, "/set-up/clock", Door::Pin, Body::Form, accept_clock},
    // Tablets and their certificates: pages/tablets_page.cpp
    {kGet, "/set-up/tablets", Door::Anyone, Body::None, tablets_page},
    {kGet, "/TABLETS", Door::Anyone, Body::None, tablets_page},
    {kGet, "/set-up/tablets/address.svg", Door::Anyone, Body::None, station_address_symbol},
    {kGet, "/authority.crt", Door::Anyone, Body::None, authority_certificate},
    // What is to be done now: pages/today.cpp
    {kGet, "/", Door::Anyone, Body::None, today},
    // May it be opened: pages/check_page.cpp, pages/check_again.cpp. Without an office they hold.
    {kGet, "/check", Door::Anyone, Body::None, check_page, true},
    {kPost, "/check/frame", Door::Anyone, Body::Frame, check_frame, true},
    {kPost, "/check/text", Door::Anyone, Body::Form, check_text, true},
    {kGet, "/check/again", Door::Anyone, Body::None, check_again, true},
    // Shelves, swept or filmed: pages/shelf_page.cpp, shelf_sweep.cpp, shelf_report.cpp
    {kGet, "/shelf", Door::Anyone, Body::None, shelf_page},
    {kPost, "/shelf/begin", Door::SignedIn, Body::Form, begin_sweep},
    {kPost, "/shelf/video", Door::SignedIn, Body::Video, begin_video},
    {kGet, "/shelf/{sweep}", Door::SignedIn, Body::None, sweep_page},
    {kPost, "/shelf/{sweep}/frame", Door::SignedIn, Body::Frame, sweep_frame},
    {kPost, "/shelf/{sweep}/photograph", Door::SignedIn, Body::File, sweep_photograph},
    {kPost, "/shelf/{sweep}/end", Door::SignedIn, Body::Form, end_sweep},
    {kPost, "/shelf/{sweep}/go-on", Door::SignedIn, Body::Form, go_on_with_sweep},
    {kGet, "/shelf/{sweep}/report", Door::SignedIn, Body::None, audit_report},
    {kGet, "/shelf/{sweep}/report.pdf", Door::SignedIn, Body::None, audit_report_pdf},
    {kGet, "/shelf/{sweep}/report.csv", Door::SignedIn, Body::None, audit_report_csv},
    {kGet, "/shelf/{sweep}/report.jsonl", Door::SignedIn, Body::None, audit_report_lines},
    {kGet, "/shelf/{sweep}/unreadable/{picture}", Door::SignedIn, Body::None, unreadable_picture},
    // Incidents and what is called back: pages/recall_page.cpp, recall_acts.cpp
    {kGet, "/recall", Door::Anyone, Body::None, recall_list},
    {kGet, "/recall/{incident}", Door::Anyone, Body::None, incident_page},
    {kGet, "/recall/{incident}/clears", Door::SignedIn, Body::None, earlier_clears_page},
    {kGet, "/recall/{incident}/notice.pdf", Door::SignedIn, Body::None, recall_notice_paper},
    {kGet, "/recall/{incident}/notice.csv", Door::SignedIn, Body::None, recall_notice_table},
    {kPost, "/recall/{incident}/step", Door::Pin, Body::Form, do_incident_step},
    {kPost, "/recall/{incident}/account", Door::SignedIn, Body::Form, account_for_suspect},
    {kPost, "/recall/{incident}/narrow", Door::Pin, Body::Form, narrow_incident},
    {kPost, "/recall/{incident}/call-back", Door::Pin, Body::Form, call_load_back},
    {kPost, "/recall/{incident}/close", Door::Pin, Body::Form, close_incident_form},
    // One package, from its label to its end: pages/package_page.cpp, open_page.cpp, withdraw_page.cpp
    {kGet, "/packages/{id}", Door::Anyone, Body::None, package_page},
    {kPost, "/packages/{id}/check", Door::Anyone, Body::Form, check_package},
    {kGet, "/packages/{id}/open", Door::SignedIn, Body::None, open_page},
    {kPost, "/packages/{id}/open", Door::SignedIn, Body::Form, open_package},
    {kGet, "/packages/{id}/opened", Door::SignedIn, Body::None, opened_page},
    {kPost, "/packages/{id}/opened", Door::SignedIn, Body::Form, record_internal},
    {kGet, "/packages/{id}/withdraw", Door::SignedIn, Body::None, withdraw_page},
    {kPost, "/packages/{id}/withdraw", Door::SignedIn, Body::Form, withdraw},
    // Packages put away: pages/shelve_page.cpp
    {kGet, "/shelve", Door::SignedIn, Body::None, shelve_page},
    {kPost, "/shelve", Door::SignedIn, Body::Form, shelve},
    {kPost, "/shelve/look", Door::SignedIn, Body::Form, look_at_shelved},
    {kPost, "/shelve/frame", Door::SignedIn, Body::Frame, read_shelved},
    // Looking things up: pages/records_page.cpp, records_period.cpp, ledger_state.cpp
    {kGet, "/records", Door::SignedIn, Body::None, records_page},
    {kPost, "/records", Door::SignedIn, Body::Form, records_page},
    {kGet, "/records/period.pdf", Door::SignedIn, Body::None, period_pdf},
    {kGet, "/records/period.csv", Door::SignedIn, Body::None, period_csv},
    {kGet, "/records/ledger", Door::SignedIn, Body::None, ledger_state},
    {kPost, "/records/ledger/verify", Door::SignedIn, Body::Form, begin_ledger_check},
    {kPost, "/records/ledger/stop", Door::SignedIn, Body::Form, stop_ledger_check},
    // Packing and its labels: pages/pack_page.cpp
    {kGet, "/pack", Door::SignedIn, Body::None, pack_page},
    {kGet, "/pack/steps", Door::SignedIn, Body::None, pack_steps},
    {kPost, "/pack/label", Door::SignedIn, Body::Form, pack_old_label},
    {kGet, "/pack/preview", Door::SignedIn, Body::None, pack_preview},
    {kGet, "/pack/preview/picture", Door::SignedIn, Body::None, pack_preview_picture},
    // Printing: pages/pack_print.cpp, pages/print_jobs.cpp
    {kPost, "/pack/print", Door::SignedIn, Body::Form, pack_print},
    {kGet, "/pack/papers/{paper}", Door::SignedIn, Body::None, pack_paper},
    {kGet, "/pack/jobs/{job}", Door::SignedIn, Body::None, print_job},
    {kPost, "/pack/jobs/{job}/cancel", Door::SignedIn, Body::Form, cancel_print_job},
    {kPost, "/pack/jobs/{job}/send", Door::SignedIn, Body::Form, send_print_job},
    // What was printed: pages/print_runs_page.cpp
    {kGet, "/pack/runs", Door::SignedIn, Body::None, print_runs},
    {kGet, "/pack/runs/{run}", Door::SignedIn, Body::None, print_run},
    {kPost, "/pack/runs/{run}/reprint", Door::SignedIn, Body::Form, reprint_run},
    {kPost, "/pack/runs/{run}/void", Door::SignedIn, Body::Form, void_of_run},
    {kGet, "/pack/packages/{package}/replace", Door::SignedIn, Body::None, replace_label_page},
    {kPost, "/pack/packages/{package}/replace", Door::SignedIn, Body::Form, replace_label},
    // The label printers: pages/printers_page.cpp
    {kGet, "/pack/printers", Door::Pin, Body::None, printers_page},
    {kPost, "/pack/printers", Door::Pin, Body::Form, set_printer},
    {kPost, "/pack/printers/remove", Door::Pin, Body::Form, remove_printer},
    {kGet, "/pack/printers/state", Door::SignedIn, Body::None, printer_state},
    // Loads: pages/loads_page.cpp, pages/load_page.cpp, load_filling, load_steps, load_evidence, load_decision, load_papers
    {kGet, "/loads", Door::Anyone, Body::None, loads_page},
    {kPost, "/loads/open", Door::SignedIn, Body::Form, open_load_here},
    {kGet, "/loads/{load}", Door::Anyone, Body::None, load_page},
    {kGet, "/loads/{load}/plot.svg", Door::Anyone, Body::None, load_plot},
    {kGet, "/loads/{load}/record.pdf", Door::Anyone, Body::None, load_record},
    {kPost, "/loads/{load}/frame", Door::SignedIn, Body::Frame, add_by_frame},
    {kPost, "/loads/{load}/add", Door::SignedIn, Body::Form, add_by_text},
    {kPost, "/loads/{load}/remove", Door::SignedIn, Body::Form, remove_package},
    {kPost, "/loads/{load}/loose", Door::SignedIn, Body::Form, add_loose},
    {kPost, "/loads/{load}/start", Door::SignedIn, Body::Form, start_load_here},
    {kPost, "/loads/{load}/finish", Door::SignedIn, Body::Form, finish_load_here},
    {kPost, "/loads/{load}/readings", Door::SignedIn, Body::Form, record_readings_here},
    {kPost, "/loads/{load}/log", Door::SignedIn, Body::File, read_log_here},
    {kPost, "/loads/{load}/leak", Door::SignedIn, Body::Form, record_leak_here},
    {kPost, "/loads/{load}/indicator", Door::SignedIn, Body::Form, record_indicator_here},
    {kPost, "/loads/{load}/biological", Door::SignedIn, Body::Form, record_biological_here},
    {kPost, "/loads/{load}/biological/place", Door::SignedIn, Body::Form, place_biological_here},
    {kPost, "/loads/{load}/biological/move", Door::SignedIn, Body::Form, move_biological_here},
    {kPost, "/loads/{load}/release", Door::Pin, Body::Form, release_load_here},
    {kPost, "/loads/{load}/revoke", Door::Pin, Body::Form, revoke_load_here},
    {kPost, "/loads/{load}/recall", Door::Pin, Body::Form, recall_load_here},
};

std::vector<std::string_view> segments_of(std::string_view path) {
  std::vector<std::string_view> segments;
  path.remove_prefix(std::min<std::size_t>(1, path.size()));
  if (path.empty()) return segments;
  for (auto end = path.find('/'); end != std::string_view::npos; end = path.find('/')) {
    segments.push_back(path.substr(0, end));
    path.remove_prefix(end + 1);
  }
  segments.push_back(path);  // empty after a last "/"
  return segments;
}

bool is_name(std::string_view segment) {
  return segment.starts_with('{') && segment.ends_with('}');
}

std::optional<Match> fits(const Route& route, std::string_view path) {
  const auto wanted = segments_of(route.pattern);
  const auto given = segments_of(path);
  if (!path.starts_with('/') || wanted.size() != given.size()) return std::nullopt;
  Match match{&route, {}};
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    const bool plain = !given[i].empty() && given[i] != "." && given[i] != "..";
    if (!is_name(wanted[i]) && wanted[i] != given[i]) return std::nullopt;
    if (!plain) return std::nullopt;
    if (is_name(wanted[i])) {
      match.parameters.emplace(wanted[i].substr(1, wanted[i].size() - 2), given[i]);
    }
  }
  return match;
}

}  // namespace

std::span<const Route> all_routes() {
  return kRoutes;
}

std::optional<Match> find_route(Method method, std::string_view path) {
  for (const Route& route : kRoutes) {
    if (route.method != method) continue;
    if (auto match = fits(route, path)) return match;
  }
  return std::nullopt;
}

bool is_for_another_method(Method method, std::string_view path) {
  return std::any_of(std::begin(kRoutes), std::end(kRoutes), [&](const Route& route) {
    return route.method != method && fits(route, path).has_value();
  });
}

}  // namespace loadlight::web
