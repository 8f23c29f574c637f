#include <algorithm>
#include <chrono>
#include <iostream>

#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/check_packages.h"
#include "loadlight/app/watch_packages.h"

namespace loadlight::cli {
namespace {

using app::CheckItem;
using core::Outcome;
using SteadyClock = std::chrono::steady_clock;

constexpr double kLongestStream = 366.0 * 24 * 60 * 60;  // seconds that --for may ask for

struct CheckOptions final {
  std::vector<std::string> texts;
  std::vector<std::string> ids;
  std::vector<std::string> images;
  int camera = -1;
  bool wedge = false;
  double seconds = 0;
};

// Checks against the office, or answers Hold when there is none to be had.
class Checker final {
 public:
  explicit Checker(const Context& context) : context_(context), office_(context.open_office()) {
    if (!office_) explain(office_.failure());
  }

  void check(const std::vector<CheckItem>& items) {
    const app::CheckRequest request{items, context_.operator_code,
                                    [this](std::string_view name) { return context_.find_template(name); }};
    answer(office_ ? app::check_packages((*office_)->ports, request)
                   : app::check_without_record(why(), request));
  }

  // One frame of a stream: answers what is to be shown anew.
  void watch(const std::vector<CheckItem>& items) {
    if (!office_ && !items.empty()) return check(items);
    if (office_) answer(watch_for_packages().see(items, SteadyClock::now()));
  }

  // Of the worst answer. Whoever was given none gets one now: nothing was found.
  int status() {
    if (!answered_) check({});
    return exit_status(worst_);
  }

  // False once nobody takes the answers: then there is nothing to go on for.
  bool is_heard() const { return std::cout.good(); }

 private:
  void answer(const std::vector<app::CheckReply>& replies) {
    for (const app::CheckReply& reply : replies) {
      answer_check(context_, reply);
      worst_ = std::max(worst_, reply.verdict.outcome());
      answered_ = true;
    }
  }

  app::PackageWatch& watch_for_packages() {
    if (!watch_) {
      watch_.emplace((*office_)->ports, app::CheckRequest{{}, context_.operator_code, [this](auto name) {
                                                            return context_.find_template(name);
                                                          }});
    }
    return *watch_;
  }

  core::RecordState why() const {
    return office_.failure().code == core::FailureCode::RecordDamaged ? core::RecordState::Damaged
                                                                      : core::RecordState::Unreachable;
  }

  // The verdict says Hold; standard error says what keeps the record away.
  void explain(const core::Failure& failure) const {
    const std::string code{core::to_text(failure.code)};
    context_.tell(context_.text("failure." + code + ".text", failure.details) + " " +
                  context_.text("failure." + code + ".action", failure.details));
  }

  const Context& context_;
  core::Result<std::unique_ptr<OpenOffice>> office_;
  std::optional<app::PackageWatch> watch_;
  Outcome worst_ = Outcome::Clear;
  bool answered_ = false;
};

std::vector<CheckItem> items_of(const std::vector<port::SymbolSighting>& sightings) {
  std::vector<CheckItem> items;
  for (const port::SymbolSighting& sighting : sightings) {
    label::Quad corners;
    for (std::size_t i = 0; i < 4; ++i) corners[i] = {sighting.corners[i].x, sighting.corners[i].y};
    items.push_back({CheckItem::How::Symbol, sighting.text, corners});
  }
  return items;
}

// What a hand scanner, a keyboard or a script gave: a label's text, or an id typed by hand.
CheckItem item_of(const std::string& given) {
  constexpr const char* kBlank = " \t\r\n";
  const auto first = std::min(given.find_first_not_of(kBlank), given.size());
  std::string text = given.substr(first, given.find_last_not_of(kBlank) + 1 - first);
  const bool typed = core::PackageId::parse_typed(text).has_value();
  return {typed ? CheckItem::How::TypedId : CheckItem::How::Symbol, std::move(text), std::nullopt};
}

int check_images(const Context& context, const CheckOptions& options, Checker& checker) {
  const auto seeing = context.world.open_seeing();
  if (!seeing) return context.fail(seeing.failure());
  int unreadable = kDone;
  for (const std::string& path : options.images) {
    const auto picture = seeing->pictures->read_file(path);
    if (!picture) {
      unreadable = context.fail(picture.failure());
      continue;
    }
    checker.check(items_of(seeing->reader->read(picture->view())));
  }
  return unreadable;
}

std::optional<SteadyClock::time_point> deadline_of(const CheckOptions& options) {
  if (options.seconds <= 0) return std::nullopt;
  return SteadyClock::now() +
         std::chrono::duration_cast<SteadyClock::duration>(std::chrono::duration<double>{options.seconds});
}

int check_lines(const Context& context, const CheckOptions& options, Checker& checker) {
  const auto lines = context.world.open_standard_input();
  const auto deadline = deadline_of(options);
  while (checker.is_heard()) {
    const auto read = lines->next(deadline);
    if (!read) return context.fail(read.failure());
    if (const auto* line = std::get_if<port::Line>(&*read)) {
      const CheckItem item = item_of(line->text);
      if (!item.text.empty()) checker.check({item});
    } else if (const auto* overlong = std::get_if<port::OverlongLine>(&*read)) {
      checker.check({{CheckItem::How::Symbol, overlong->beginning, std::nullopt}});
    } else {
      break;
    }
  }
  return kDone;
}

// The next frame is the second try.
constexpr port::ReadBudget kFrameBudget{std::chrono::milliseconds{300}, port::Effort::Quick, 2};

bool interrupted(port::LineSource& signals) {
  const auto read = signals.next(SteadyClock::now());
  return read && std::holds_alternative<port::Interrupted>(*read);
}

int check_camera(const Context& context, const CheckOptions& options, Checker& checker) {
  const auto seeing = context.world.open_seeing();
  if (!seeing) return context.fail(seeing.failure());
  const auto camera = seeing->cameras->open(options.camera);
  if (!camera) return context.fail(camera.failure());
  const auto signals = context.world.open_standard_input();  // watches for an interrupt while it lives
  const auto deadline = deadline_of(options);
  while (checker.is_heard() && !interrupted(*signals) && (!deadline || SteadyClock::now() < *deadline)) {
    const auto frame = (*camera)->next();
    if (!frame) return context.fail(frame.failure());
    if (!*frame) break;
    const auto look = seeing->reader->look((*frame)->picture.view(), kFrameBudget);
    checker.watch(items_of(look.read));
  }
  return kDone;
}

int check(const Context& context, const CheckOptions& options) {
  const bool stream = options.wedge || options.camera >= 0;
  const bool typed = !options.texts.empty() || !options.ids.empty();
  if (!stream && !typed && options.images.empty()) {
    return context.fail({core::FailureCode::WrongUsage, {{"problem", context.text("usage.check-what")}}, {}});
  }
  if (!(options.seconds >= 0 && options.seconds <= kLongestStream)) {
    return context.fail(bad_value("for", std::to_string(options.seconds)));
  }
  Checker checker{context};
  std::vector<CheckItem> items;
  for (const auto* given : {&options.texts, &options.ids}) {  // ids and texts are interchangeable
    for (const std::string& each : *given) items.push_back(item_of(each));
  }
  for (const auto& item : items) checker.check({item});
  int failed = kDone;
  if (!options.images.empty()) failed = check_images(context, options, checker);
  if (failed == kDone && options.wedge) failed = check_lines(context, options, checker);
  if (failed == kDone && options.camera >= 0) failed = check_camera(context, options, checker);
  return context.delivered(failed == kDone ? checker.status() : failed);
}

}  // namespace

void add_check(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "check");
  auto options = on_call<CheckOptions>(*verb, context, check);
  add_option(*verb, context, "--text", options->texts)->allow_extra_args(false);
  add_option(*verb, context, "--id", options->ids)->allow_extra_args(false);
  add_option(*verb, context, "--image", options->images);
  add_option(*verb, context, "--camera", options->camera);
  add_flag(*verb, context, "--wedge", options->wedge);
  add_option(*verb, context, "--for", options->seconds);
}

}  // namespace loadlight::cli
