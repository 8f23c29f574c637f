#include "cli/context.h"

#include <filesystem>
#include <iostream>

#include "loadlight/app/again.h"
#include "loadlight/app/cut_off.h"

namespace loadlight::cli {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

int exit_status(core::FailureKind kind) {
  switch (kind) {
    case core::FailureKind::Usage:
      return kWrongUsage;
    case core::FailureKind::Refused:
      return kRefused;
    case core::FailureKind::Failed:
      return kFailed;
  }
  return kFailed;
}

// Bytes that are not UTF-8 came from the command line; JSON shows them replaced.
std::string dumped(const Json& object) {
  return object.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace

Result<std::unique_ptr<OpenOffice>> Context::open_office() const {
  auto office = app::open_office(world, office_folder);
  if (!office) return office;
  warn_of_exposed();
  if ((*office)->ports.copy) settle_queue((*office)->ports);
  return office;
}

// What this station did while the record could not be reached. What cannot be written yet waits for the next command.
void Context::settle_queue(const app::Ports& ports) const {
  const auto done = app::write_queued(ports);
  if (done) return tell_settled(ports, *done);
  if (app::is_out_of_reach(done.failure())) return;
  const std::string code{core::to_text(done.failure().code)};
  tell(text("station.queue-waits", {{"why", text("failure." + code + ".text", done.failure().details)}}));
}

void Context::tell_settled(const app::Ports& ports, const app::QueueReply& done) const {
  if (done.written > 0) tell(text("station.queue-written", {{"count", std::to_string(done.written)}}));
  for (app::ContradictedOpening each : done.contradicted) {
    each.visit.clear();  // nobody asked for it
    tell(opening_text(ports, each));
  }
}

std::string Context::opening_text(const app::Ports& ports, const app::ContradictedOpening& opening) const {
  const auto id = core::PackageId::parse_exact(opening.package);
  core::Details details{{"package", id ? id->grouped() : opening.package},
                        {"at", ports.zone.local_text(opening.at)},
                        {"operator", opening.operator_code}};
  if (!opening.visit.empty()) details.emplace_back("visit", opening.visit);
  std::string said = text("line.opening-contradicted", details);
  for (const core::Reason reason : opening.reasons) {
    said += "\n  - " + text("reason." + std::string{core::to_text(reason)} + ".text");
  }
  return said;
}

void Context::warn_of_exposed() const {
  std::string names;
  for (const std::string& name : world.exposed_files(office_folder)) {
    names += (names.empty() ? "" : ", ") + name;
  }
  if (!names.empty()) tell(text("line.exposed", {{"office", office_folder}, {"files", names}}));
}

Result<label::LabelTemplate> Context::find_template(std::string_view name) const {
  return app::find_template(world, name);
}

Result<std::unique_ptr<OpenShop>> Context::open_shop() const {
  return app::open_shop(world, *words);
}

Result<void> Context::spare_the_office(const std::string& out) const {
  namespace fs = std::filesystem;
  std::error_code unresolved;  // then it is in no folder, and writing it says why
  const fs::path file = fs::weakly_canonical(fs::absolute(out, unresolved), unresolved);
  const fs::path folder = fs::weakly_canonical(fs::absolute(world.files_of(office_folder), unresolved), unresolved);
  const std::string kind = file.extension();
  const bool printed = kind == ".pdf" || kind == ".csv" || kind == ".svg" || kind == ".html";
  if (unresolved || file.parent_path() != folder || printed) return {};
  return Failure{core::FailureCode::BadValue,
                 {{"field", "out"}, {"given", out}, {"what", text("usage.out-in-office")}},
                 {}};
}

std::string Context::text(std::string_view key, const core::Details& details) const {
  return words->text(key, details);
}

void Context::answer(const Json& object, const std::string& for_people) const {
  may_run_again_ = false;
  if (json) {
    std::cout << dumped(object) << std::endl;
  } else if (!for_people.empty()) {
    std::cout << for_people << std::endl;
  }
}

void Context::tell(const std::string& text) const {
  may_run_again_ = false;
  std::cerr << text << std::endl;
}

int Context::run_action() {
  for (int attempt = 1;; ++attempt) {
    may_run_again_ = attempt < app::kMostAttempts;
    unsaid_.reset();
    commits_before_ = app::commits_of_this_thread();
    const int status = action();
    if (!unsaid_) return status;
    if (!may_run_again_ || app::commits_of_this_thread() != commits_before_) return say(*unsaid_);
    app::pause_after(attempt);
  }
}

int Context::fail(const Failure& failure) const {
  const bool curable = may_run_again_ && app::was_changed_meanwhile(failure) &&
                       app::commits_of_this_thread() == commits_before_;
  if (!curable) return say(failure);
  if (!unsaid_) unsaid_ = failure;
  return kFailed;
}

int Context::say(const Failure& failure) const {
  const std::string code{core::to_text(failure.code)};
  std::string said = text("failure." + code + ".text", failure.details);
  const std::string advice = text("failure." + code + ".action", failure.details);
  Json items = Json::array();
  for (const core::Sentence& item : failure.items) items.push_back(words->text(item));
  if (json && std::cout.good()) {
    Json object{{"error", code}, {"text", said}, {"action", advice}};
    if (!items.empty()) object["items"] = items;
    std::cout << dumped(object) << std::endl;
    return exit_status(core::kind_of(failure.code));
  }
  for (const auto& item : items) said += "\n  - " + item.get<std::string>();
  tell(said + "\n" + advice);
  return exit_status(core::kind_of(failure.code));
}

int Context::delivered(int status) const {
  if (std::cout.flush().good()) return status;
  return fail({FailureCode::FileUnwritable, {{"path", "-"}, {"why", "write"}}, {}});
}

}  // namespace loadlight::cli
