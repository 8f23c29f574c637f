#include "web/station.h"

#include <algorithm>

#include "loadlight/app/again.h"
#include "loadlight/app/cut_off.h"
#include "loadlight/app/sign_in.h"
#include "web/cookies.h"

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;

constexpr std::uint64_t kFormLimit = 256u << 10;
constexpr std::uint64_t kFrameLimit = 6u << 20;
constexpr std::uint64_t kFileLimit = 64u << 20;
constexpr std::uint64_t kVideoLimit = 8ull << 30;
constexpr std::size_t kMostPeers = 1000;

BodyPlan plan_of(Body body) {
  switch (body) {
    case Body::None:
      return {0, false, std::chrono::seconds{30}, {}};
    case Body::Form:
      return {kFormLimit, false, std::chrono::seconds{30}, {}};
    case Body::Frame:
      return {kFrameLimit, false, std::chrono::seconds{20}, {}};
    case Body::File:
      return {kFileLimit, false, std::chrono::minutes{3}, {}};
    case Body::Video:
      return {kVideoLimit, true, std::chrono::hours{2}, {}};
  }
  return {};
}

std::string limit_text(std::uint64_t bytes) {
  if (bytes >= (1u << 20)) return std::to_string(bytes >> 20) + " MB";
  return std::to_string(bytes >> 10) + " KB";
}

// What a browser may do with our pages: run our own scripts, show our own pictures, talk to us alone.
constexpr std::pair<const char*, const char*> kPromises[] = {
    {"Content-Security-Policy",
     "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; media-src 'self' "
     "blob:; connect-src 'self'; font-src 'self'; manifest-src 'self'; frame-src 'self'; form-action 'self'; "
     "frame-ancestors 'self'; base-uri 'none'"},
    {"X-Content-Type-Options", "nosniff"},
    {"Referrer-Policy", "same-origin"},
    {"Cross-Origin-Opener-Policy", "same-origin"},
    {"Cross-Origin-Resource-Policy", "same-origin"},
    {"Permissions-Policy", "camera=(self), microphone=(), geolocation=()"},
};

bool has_header(const Response& response, std::string_view name) {
  return std::any_of(response.headers.begin(), response.headers.end(),
                     [name](const auto& header) { return header.first == name; });
}

void add_promises(Response& response) {
  for (const auto& [name, value] : kPromises) {
    if (!has_header(response, name)) response.headers.emplace_back(name, value);
  }
  if (!has_header(response, "Cache-Control")) response.headers.emplace_back("Cache-Control", "no-store");
}

std::string_view without_port(std::string_view host) {
  return host.substr(0, host.rfind(':') == std::string_view::npos ? host.size() : host.rfind(':'));
}

// Without TLS we are only ever called by this machine, under these names: another name is another site's that
// points here.
bool is_our_host(const RequestHead& head) {
  if (head.secure) return !head.host.empty();
  const std::string_view name = without_port(head.host);
  return head.local && (name == "127.0.0.1" || name == "localhost");
}

bool is_our_origin(const RequestHead& head) {
  return head.origin.empty() || head.origin == (head.secure ? "https://" : "http://") + head.host;
}

// Somebody sends a form or a file, or goes to a page. What a camera sees and what a page asks for by itself says
// nothing of who is there. A browser that does not say what it fetches for is believed.
Touch touch_of(const RequestHead& head, const Route& route) {
  const bool sent = route.body != Body::None && route.body != Body::Frame;
  const bool gone_to = head.fetched_as.empty() || head.fetched_as == "document";
  const bool by_itself = head.path.starts_with("/static/") || head.path == "/live" || head.path == "/sign-in/here";
  return sent || (route.method == Method::Get && gone_to && !by_itself) ? Touch::ByHand : Touch::ByItself;
}

bool is_form(const RequestHead& head) {
  return head.content_type.starts_with("application/x-www-form-urlencoded");
}

// Again when another station's change was met, unless something of it was written.
Response answered(Visit& visit, const Route& route) {
  for (int attempt = 1;; ++attempt) {
    const auto before = app::commits_of_this_thread();
    Response response = route.answer(visit);
    const bool whole = !response.changed_meanwhile || app::commits_of_this_thread() != before;
    if (whole || attempt == app::kMostAttempts) return response;
    app::pause_after(attempt);
  }
}

}  // namespace

bool RequestMeter::admits(const std::string& peer, std::chrono::steady_clock::time_point now) {
  const std::lock_guard lock{mutex_};
  if (buckets_.size() > kMostPeers) buckets_.clear();
  auto [found, made] = buckets_.try_emplace(peer);
  Bucket& bucket = found->second;
  if (!made) {
    const double gone = std::chrono::duration<double>(now - bucket.seen).count();
    bucket.left = std::min(kBurst, bucket.left + gone * kPerSecond);
  }
  bucket.seen = now;
  if (bucket.left < 1) return false;
  bucket.left -= 1;
  return true;
}

BodyPlan Station::plan(const RequestHead& head) {
  const auto refused = [&](const Failure& failure) {
    BodyPlan plan;
    plan.limit = kFormLimit;
    const Request request{head, {}, {}};
    Response response = visit_of(request).failed(failure);
    add_promises(response);
    plan.refusal = std::move(response);
    return plan;
  };
  if (!head.local && !meter_.admits(head.peer, std::chrono::steady_clock::now())) {
    return refused({FailureCode::TooManyRequests, {}, {}});
  }
  if (!is_our_host(head) || (head.method == Method::Post && !is_our_origin(head))) {
    return refused({FailureCode::FormStale, {}, {}});
  }
  const auto match = find_route(head.method, head.path);
  if (!match) return refused({FailureCode::PageUnknown, {}, {}});
  if (const auto why = hindrance_of_upload(head, *match->route)) return refused(*why);
  return plan_of(match->route->body);
}

// A large body carries its token in the head: whoever may not send it is told before it is read.
std::optional<Failure> Station::hindrance_of_upload(const RequestHead& head, const Route& route) {
  if (route.body == Body::None || route.body == Body::Form) return std::nullopt;
  const Request request{head, {}, {}};
  const Visit visit = visit_of(request);
  if (auto why = hindrance(visit, route)) return why;
  if (desk_.seal().fits(head.token, visit.cookie, head.path)) return std::nullopt;
  return Failure{FailureCode::FormStale, {}, {}};
}

Response Station::refuse(const RequestHead& head, int status) {
  const auto match = find_route(head.method, head.path);
  const std::uint64_t limit = match ? plan_of(match->route->body).limit : kFormLimit;
  Failure failure{FailureCode::RequestUnreadable, {}, {}};
  if (status == 413) failure = {FailureCode::BodyTooLarge, {{"limit", limit_text(limit)}}, {}};
  if (status == 503) failure = {FailureCode::TooManyRequests, {}, {}};
  if (status == 500) failure = {FailureCode::Internal, {}, {}};
  const Request request{head, {}, {}};
  Response response = visit_of(request).failed(failure);
  response.status = status;
  add_promises(response);
  return response;
}

Visit Station::visit_of(const Request& request, Touch touch) {
  const auto cookies = parse_cookies(request.head.cookie);
  std::string language{cookies.value("loadlight-language")};
  const auto office = desk_.office();
  if (language.empty() && office) {
    const auto reading = app::begin_reading((*office)->ports);
    const auto settings = reading ? reading->unit().office() : core::Result<core::Office>{reading.failure()};
    if (settings) language = settings->language;
  }
  Visit visit{request, desk_, desk_.language(language), std::string{cookies.value(kBrowserCookie)}, {}, false, {},
              {}};
  if (!office) return visit;
  const auto sign_in = desk_.sign_ins().find(visit.cookie, std::chrono::steady_clock::now(), touch,
                                             app::idle_lock((*office)->ports));
  if (!sign_in) return visit;
  const auto who = app::signed_in_operator((*office)->ports, sign_in->operator_code);
  if (who && sign_in->locked) {
    visit.locked_for = who->code;
  } else if (who) {
    visit.who = *who;
    visit.lock_left = sign_in->left;
    visit.by_pin = sign_in->by_pin;
  } else {
    desk_.sign_ins().end_all_of(sign_in->operator_code);
  }
  return visit;
}

std::optional<Failure> Station::hindrance(const Visit& visit, const Route& route) {
  if (!route.without_office) {
    const auto office = desk_.office();
    if (!office) return office.failure();
  }
  if (route.door != Door::Anyone && !visit.who) return Failure{FailureCode::SignInNeeded, {}, {}};
  if (route.door == Door::Pin && !visit.by_pin) return Failure{FailureCode::PinNeeded, {}, {}};
  return std::nullopt;
}

Response Station::posted(Visit& visit, const Route& route) {
  const RequestHead& head = visit.request.head;
  if (route.body == Body::Form) {
    auto form = is_form(head) ? parse_form(visit.request.body) : std::nullopt;
    if (!form) return visit.failed({FailureCode::RequestUnreadable, {}, {}});
    visit.form = std::move(*form);
  }
  const std::string token{route.body == Body::Form ? visit.field("token") : std::string_view{head.token}};
  if (!desk_.seal().fits(token, visit.cookie, head.path)) return visit.failed({FailureCode::FormStale, {}, {}});
  if (visit.field("once").empty()) return answered(visit, route);
  const std::string form = visit.cookie + "\n" + head.path + "\n" + std::string{visit.field("once")};
  if (auto earlier = desk_.once().begin(form)) return *earlier;
  Response response{500, {}, {}, {}, {}};
  try {
    response = answered(visit, route);
  } catch (...) {
    desk_.once().settle(form, response);
    throw;
  }
  desk_.once().settle(form, response);
  return response;
}

Response Station::admitted(Visit& visit, const Route& route) {
  if (const auto why = hindrance(visit, route)) {
    const bool by_signing_in = why->code == FailureCode::SignInNeeded || why->code == FailureCode::PinNeeded;
    if (why->code == FailureCode::OfficeAbsent && !visit.wants_json() && visit.request.head.method == Method::Get) {
      return visit.go_to("/first-run");
    }
    if (!by_signing_in || visit.wants_json() || visit.request.head.method == Method::Post) {
      return visit.failed(*why);
    }
    return visit.go_to("/sign-in?back=" + url_escaped(visit.request.head.path) +
                       (why->code == FailureCode::PinNeeded ? "&pin=1" : ""));
  }
  return route.method == Method::Post ? posted(visit, route) : answered(visit, route);
}

Response Station::answer(const Request& request) {
  auto match = find_route(request.head.method, request.head.path);
  Visit visit = visit_of(request, match ? touch_of(request.head, *match->route) : Touch::ByItself);
  // A browser gets its name with its first page.
  const bool is_new = !is_browser_name(visit.cookie);
  if (is_new) visit.cookie = random_name();
  if (!match) return refuse(request.head, 404);
  visit.parameters = std::move(match->parameters);
  Response response = admitted(visit, *match->route);
  if (is_new && !has_header(response, "Set-Cookie")) {
    response.headers.emplace_back("Set-Cookie", browser_cookie(visit.cookie, request.head.secure));
  }
  add_promises(response);
  return response;
}

}  // namespace loadlight::web
