#include <chrono>
#include <filesystem>

#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/audit_answers.h"
#include "cli/commands.h"
#include "loadlight/app/photo_frames.h"
#include "loadlight/app/print_audit.h"

namespace loadlight::cli {
namespace {

using core::Result;
using SteadyClock = std::chrono::steady_clock;

constexpr double kLongestSweep = 366.0 * 24 * 60 * 60;  // seconds that --for may ask for
constexpr std::chrono::seconds kBetweenProgress{3};

struct AuditOptions final {
  std::string video;
  std::string images;
  int camera = -1;
  std::string location;
  std::string report;
  std::string page;
  std::string table;
  std::string paper = "A4";
  bool resume = false;
  double seconds = 0;
};

Result<std::vector<std::string>> names_in(const std::string& folder) {
  std::error_code error;
  std::vector<std::string> names;
  for (std::filesystem::directory_iterator entry{folder, error}, end; !error && entry != end;
       entry.increment(error)) {
    names.push_back(entry->path().filename());
  }
  if (!error) return names;
  return core::Failure{core::FailureCode::FileUnreadable, {{"path", folder}, {"why", error.message()}}, {}};
}

// A picture that cannot be read is told of, and the others are still looked at.
Result<std::unique_ptr<port::FrameSource>> open_photos(const Context& context, const SeeingLeaves& seeing,
                                                       const std::string& folder, bool& skipped) {
  auto names = names_in(folder);
  if (!names) return names.failure();
  return app::open_photos(*seeing.pictures, folder, std::move(*names), [&](const core::Failure& failure) {
    skipped = true;
    context.fail(failure);
  });
}

Result<std::unique_ptr<port::FrameSource>> open_frames(const Context& context, const SeeingLeaves& seeing,
                                                       const AuditOptions& options, bool& skipped) {
  if (!options.video.empty()) return seeing.videos->open(options.video);
  if (!options.images.empty()) return open_photos(context, seeing, options.images, skipped);
  return seeing.cameras->open(options.camera);
}

std::string source_of(const AuditOptions& options) {
  if (!options.video.empty()) return options.video;
  if (!options.images.empty()) return options.images;
  return "camera " + std::to_string(options.camera);
}

// Tells people how it goes, and when to stop.
class Watcher final {
 public:
  Watcher(const Context& context, const AuditOptions& options)
      : context_(context), signals_(context.world.open_standard_input()) {
    if (options.seconds > 0) {
      until_ = SteadyClock::now() + std::chrono::duration_cast<SteadyClock::duration>(
                                        std::chrono::duration<double>{options.seconds});
    }
  }

  app::AuditStep see(const app::AuditProgress& progress) {
    const auto now = SteadyClock::now();
    if (now >= next_) {
      next_ = now + kBetweenProgress;
      tell_progress(context_, progress);
      tell_hints(context_, progress);
    }
    if (interrupted()) return app::AuditStep::Interrupt;
    return until_ && now >= *until_ ? app::AuditStep::Finish : app::AuditStep::GoOn;
  }

 private:
  bool interrupted() {
    const auto read = signals_->next(SteadyClock::now());
    return read && std::holds_alternative<port::Interrupted>(*read);
  }

  const Context& context_;
  std::unique_ptr<port::LineSource> signals_;  // watches for an interrupt while it lives
  std::optional<SteadyClock::time_point> until_;
  SteadyClock::time_point next_ = SteadyClock::now() + kBetweenProgress;
};

int write_out(const Context& context, const std::string& path, const Result<std::string>& bytes) {
  if (!bytes) return context.fail(bytes.failure());
  if (const auto ok = context.world.files.write(path, *bytes); !ok) return context.fail(ok.failure());
  context.tell(context.text("line.written", {{"path", path}}));
  return kDone;
}

// Every file that was asked for; one that cannot be made does not keep the others from being made.
int write_reports(const Context& context, const app::Ports& ports, const OpenShop& shop,
                  const AuditOptions& options, app::PageSize paper, const app::AuditReply& reply) {
  if (options.report.empty() && options.page.empty() && options.table.empty()) return kDone;
  const auto facts = app::audit_on_paper(ports, *context.words, reply);
  if (!facts) return context.fail(facts.failure());
  int status = kDone;
  const auto note = [&status](int written) { status = written == kDone ? status : written; };
  if (!options.report.empty()) {
    const app::PageShop pages{shop.shop.gauge, shop.shop.press, *context.words, paper};
    note(write_out(context, options.report, app::audit_pdf(pages, *facts, reply.ended_at)));
  }
  if (!options.page.empty()) {
    note(write_out(context, options.page, report::audit_page(*facts, *context.words)));
  }
  if (!options.table.empty()) note(write_out(context, options.table, app::audit_csv(*facts)));
  return status;
}

// Before the sweep, so that nobody sweeps for a report that has no place.
Result<void> check_options(const Context& context, const AuditOptions& options) {
  const int sources =
      (options.video.empty() ? 0 : 1) + (options.images.empty() ? 0 : 1) + (options.camera < 0 ? 0 : 1);
  if (sources != 1) {
    return core::Failure{core::FailureCode::WrongUsage, {{"problem", context.text("usage.audit-what")}}, {}};
  }
  if (!(options.seconds >= 0 && options.seconds <= kLongestSweep)) {
    return bad_value("for", std::to_string(options.seconds));
  }
  for (const auto* path : {&options.report, &options.page, &options.table}) {
    if (path->empty()) continue;
    if (const auto spared = context.spare_the_office(*path); !spared) return spared;
  }
  return {};
}

app::AuditRequest request_of(const Context& context, const AuditOptions& options, Watcher& watcher) {
  app::AuditRequest request;
  request.location = options.location;
  request.operator_code = context.operator_code;
  request.source = source_of(options);
  request.resume = options.resume;
  request.find_template = [&context](std::string_view name) { return context.find_template(name); };
  request.tell = [&watcher](const app::AuditProgress& progress) { return watcher.see(progress); };
  if (!context.json) {
    request.saw = [&context](const app::AuditedPackage& package) { tell_sighting(context, package); };
  }
  return request;
}

// What was seen is printed whatever came of the rest; the summary is the last line.
int present(const Context& context, const app::Ports& ports, const OpenShop& shop,
            const AuditOptions& options, app::PageSize paper, const app::AuditReply& reply) {
  answer_audit(context, reply);
  int status = write_reports(context, ports, shop, options, paper, reply);
  if (reply.trouble) status = context.fail(*reply.trouble);
  answer_audit_summary(context, reply);
  if (reply.trouble) return kFailed;
  return context.delivered(status == kDone ? exit_status(worst_of(reply)) : status);
}

int audit(const Context& context, const AuditOptions& options) {
  if (const auto ok = check_options(context, options); !ok) return context.fail(ok.failure());
  const auto paper = parse_paper(options.paper);
  if (!paper) return context.fail(paper.failure());
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto shop = context.open_shop();
  if (!shop) return context.fail(shop.failure());
  const auto seeing = context.world.open_seeing();
  if (!seeing) return context.fail(seeing.failure());
  bool skipped = false;  // a photograph: then part of the shelf was not looked at
  const auto frames = open_frames(context, *seeing, options, skipped);
  if (!frames) return context.fail(frames.failure());
  Watcher watcher{context, options};
  const app::AuditEyes eyes{*seeing->reader, *seeing->pictures, (*shop)->shop.encoder};
  const auto reply =
      app::audit_shelf((*office)->ports, eyes, **frames, request_of(context, options, watcher));
  if (!reply) return context.fail(reply.failure());
  const int status = present(context, (*office)->ports, **shop, options, *paper, *reply);
  return skipped ? kFailed : status;
}

}  // namespace

void add_audit(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "audit");
  auto options = on_call<AuditOptions>(*verb, context, audit);
  add_option(*verb, context, "--video", options->video);
  verb->add_option("--images", options->images, context.text("help.option.images-folder"));
  add_option(*verb, context, "--camera", options->camera);
  add_option(*verb, context, "--location", options->location)->required();
  verb->add_option("--report", options->report, context.text("help.option.audit-report"));
  add_option(*verb, context, "--page", options->page);
  add_option(*verb, context, "--table", options->table);
  add_option(*verb, context, "--paper", options->paper);
  add_flag(*verb, context, "--resume", options->resume);
  add_option(*verb, context, "--for", options->seconds);
}

}  // namespace loadlight::cli
