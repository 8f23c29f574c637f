#include "loadlight/app/make_demo.h"

#include <cstdlib>

#include "loadlight/app/change_labels.h"
#include "loadlight/app/load_evidence.h"
#include "loadlight/app/load_life.h"
#include "loadlight/app/open_package.h"
#include "loadlight/app/print_labels.h"
#include "loadlight/app/release_load.h"
#include "loadlight/core/payload.h"
#include "loadlight/core/programs.h"

namespace loadlight::app {
namespace {

using core::Result;
using std::chrono::hours;
using std::chrono::minutes;

class HandTurnedClock final : public port::Clock {
 public:
  core::Instant now() const override { return now_; }
  void set(core::Instant to) { now_ = to; }
  void pass(minutes time) { now_ += time; }

 private:
  core::Instant now_{};
};

// Labels are laid out, so that the record is whole, but no paper is made.
class NoPress final : public label::Press {
 public:
  Result<std::string> print(const std::vector<label::Page>&, core::Instant) const override {
    return std::string{};
  }
};
class NoFiles final : public port::Files {
 public:
  Result<std::string> read(const std::string&, std::size_t) const override { return std::string{}; }
  Result<void> each_chunk(const std::string&, const std::function<bool(const Chunk&)>&) const override {
    return {};
  }
  Result<void> write(const std::string&, std::string_view) const override { return {}; }
};

// What went wrong first; later steps are then skipped.
class Trouble final {
 public:
  bool none() const { return !failure_; }
  const core::Failure& failure() const { return *failure_; }
  template <class T>
  T take(Result<T> result, T otherwise) {
    if (result) return std::move(*result);
    if (!failure_) failure_ = result.failure();
    return otherwise;
  }
  template <class T>
  void note(const Result<T>& result) {
    if (!result && !failure_) failure_ = result.failure();
  }

 private:
  std::optional<core::Failure> failure_;
};

struct Batch final {
  const char* contents;
  const char* kind;
  int count;
};

// How a load of the story goes.
enum class Ending { Released, Unreleased, Running, TooShort, Quarantined, Recalled, NotStarted };

struct LoadPlan final {
  const char* sterilizer;
  const char* program;
  core::Readings readings;
  std::vector<Batch> batches;
  Ending ending = Ending::Released;
  const char* location = "CAB1";
};

class Story final {
 public:
  Story(const Ports& ports, const PrintShop& shop)
      : zone_(ports.zone), ports_{ports.store, clock_, ports.zone, ports.keyring}, shop_(quiet(shop)) {}

  void begin(core::Instant at, const OfficeRequest& request, const DemoTables& tables) {
    clock_.set(at);
    trouble_.note(make_office(ports_, request));
    for (const auto& [table, csv] : tables.csv) {
      if (trouble_.none()) trouble_.note(import_entries(ports_, "MB", table, csv));
    }
  }

  // Eight in the morning, local time, `days` before `now`.
  core::Instant morning(core::Instant now, int days) const {
    const core::Instant then = now - hours{24 * days};
    const std::string text = zone_.local_text(then);  // "YYYY-MM-DD HH:MM"
    return then - hours{std::atoi(text.c_str() + 11)} - minutes{std::atoi(text.c_str() + 14)} + hours{8};
  }

  bool is_working_day(core::Instant at) const {
    const std::chrono::weekday day{std::chrono::sys_days{zone_.local_date(at).calendar()}};
    return day != std::chrono::Saturday && day != std::chrono::Sunday;
  }

  // Plays one load from its labels to its ending; its packages, as they were printed.
  std::vector<core::Package> run(core::Instant at, const LoadPlan& plan, const std::string& who) {
    if (!trouble_.none()) return {};
    clock_.set(at);
    const auto load = trouble_.take(
        open_load(ports_, {who, plan.sterilizer, plan.program, core::LoadPurpose::Process, {}, {}}), core::Load{});
    std::vector<core::Package> packages = print(plan, load.name, who);
    if (!trouble_.none() || plan.ending == Ending::NotStarted) return packages;
    clock_.pass(minutes{20});
    trouble_.note(add_to_load(ports_, {who, load.name, ids(packages), {}}));
    trouble_.note(start_load(ports_, {who, load.name}));
    if (plan.ending == Ending::Running) return packages;
    clock_.pass(minutes{58});
    trouble_.note(finish_load(ports_, {who, load.name, "", {}}));
    end(plan, load.name, packages, who);
    return packages;
  }

  void open(core::Instant at, const core::Package& package, const std::string& visit) {
    if (!trouble_.none()) return;
    clock_.set(at);
    OpenRequest request{"AK", package.id.text(), visit, true, true, core::IndicatorLook::Changed, ""};
    trouble_.note(open_package(ports_, request));
    trouble_.note(record_internal_indicator(ports_, {"AK", package.id.text(), core::IndicatorLook::Changed}));
  }

  void withdraw(const core::Package& package) {
    trouble_.note(withdraw_package(ports_, {"JT", package.id.text(), core::WithdrawReason::Torn}));
  }

  void make_void(const core::Package& package) {
    trouble_.note(void_labels(ports_, {"JT", {package.id.text()}, "torn while peeling"}));
  }

  void add_case(const std::string& name, const core::Package& package) {
    cases_.push_back({name, package.id.text(), package.payload, package.load.text()});
  }

  // A label that names a real package but was signed by nobody here.
  void add_forged(const core::Package& package) {
    std::string payload = package.payload.substr(0, package.payload.size() - core::kAuthenticatorLength);
    payload += ports_.keyring.mac("not " + payload);
    cases_.push_back({"forged", package.id.text(), payload, package.load.text()});
  }

  Result<std::vector<DemoCase>> result() const {
    if (!trouble_.none()) return trouble_.failure();
    return cases_;
  }

 private:
  PrintShop quiet(const PrintShop& shop) const {
    return PrintShop{shop.encoder, shop.gauge, press_, files_, shop.words, shop.find_template};
  }

  std::vector<core::Package> print(const LoadPlan& plan, const core::LoadName& load, const std::string& who) {
    std::vector<core::Package> packages;
    for (const Batch& batch : plan.batches) {
      const PrintRequest request{who, batch.contents, batch.count, load, batch.kind, {}, true, {}};
      const auto reply = trouble_.take(print_labels(ports_, shop_, request), PrintReply{});
      packages.insert(packages.end(), reply.packages.begin(), reply.packages.end());
      clock_.pass(minutes{3});
    }
    return packages;
  }

  void end(const LoadPlan& plan, const core::LoadName& load, const std::vector<core::Package>& packages,
           const std::string& who) {
    if (plan.ending == Ending::Unreleased || !trouble_.none()) return;
    core::Readings readings = plan.readings;
    if (plan.ending == Ending::TooShort) readings.minutes /= 2;
    trouble_.note(record_readings(ports_, {who, load, readings, ""}));
    const auto expires = zone_.local_date(clock_.now()).plus_months(10);
    trouble_.note(record_indicator(ports_, {who, load, core::IndicatorPlace::External, 1, "CI-0417",
                                            expires, true, {}, {}, {}, ""}));
    clock_.pass(minutes{4});
    trouble_.note(release_load(ports_, {"MB", load, "", ""}));
    const bool shelved = plan.ending == Ending::Released || plan.ending == Ending::Recalled;
    if (shelved) trouble_.note(shelve_packages(ports_, {who, ids(packages), plan.location}));
    if (plan.ending == Ending::Recalled) {
      clock_.pass(minutes{120});
      trouble_.note(recall_load(ports_, {"MB", load, "door seal found cracked after the run"}));
    }
  }

  static std::vector<std::string> ids(const std::vector<core::Package>& packages) {
    std::vector<std::string> texts;
    for (const auto& package : packages) texts.push_back(package.id.text());
    return texts;
  }

  HandTurnedClock clock_;
  NoPress press_;
  NoFiles files_;
  const port::Zone& zone_;
  Ports ports_;
  PrintShop shop_;
  Trouble trouble_;
  std::vector<DemoCase> cases_;
};

// What a sterilizer in good order shows: a little more than its program asks.
core::Readings good_run(const char* program_code, double pressure_kpa) {
  const core::Program* program = core::find_program(program_code);
  if (!program) return {};
  return {program->celsius + 0.5, program->celsius + 2, program->exposure_minutes + 0.5, pressure_kpa,
          program->drying_minutes + 2};
}

LoadPlan dynamic_load(std::vector<Batch> batches, Ending ending = Ending::Released) {
  const char* program = "dynamic-132-wrapped";
  return {"S1", program, good_run(program, 293), std::move(batches), ending, "CAB1"};
}
LoadPlan gravity_load(std::vector<Batch> batches, Ending ending = Ending::Released) {
  const char* program = "gravity-121-wrapped";
  return {"S2", program, good_run(program, 209), std::move(batches), ending, "CAB2"};
}

const char* packer(int day) { return day % 3 == 0 ? "MB" : "JT"; }

// Six weeks of ordinary work: two loads a weekday, some packages used on the working day after.
void play_ordinary_weeks(Story& story, core::Instant now) {
  std::vector<core::Package> on_the_shelf;
  for (int day = 42; day >= 3; --day) {
    const auto morning = story.morning(now, day);
    if (!story.is_working_day(morning)) continue;
    auto exams = story.run(morning, dynamic_load({{"EXAM", "P", 5}, {"HYG", "P", 3}}), packer(day));
    for (std::size_t used = 0; used < std::min<std::size_t>(4, on_the_shelf.size()); ++used) {
      story.open(morning + hours{2} + minutes{12 * used}, on_the_shelf[used],
                 "V-" + std::to_string(10000 + day * 10 + static_cast<int>(used)));
    }
    story.run(morning + hours{3}, gravity_load({{"ENDO", "W", 2}, {"FORC", "P", 2}}), packer(day + 1));
    on_the_shelf = std::move(exams);
  }
}

void play_expired(Story& story, core::Instant now, const OfficeRequest& request) {
  if (!request.shelf_life_days) return;
  const auto old = story.run(story.morning(now, *request.shelf_life_days + 6),
                             dynamic_load({{"CAST", "P", 2}}), "MB");
  if (!old.empty()) story.add_case("expired", old.front());
}

// The packages of interest, on the days just before now.
void play_cases(Story& story, core::Instant now) {
  const auto two_days_ago = story.morning(now, 2);
  const auto good = story.run(two_days_ago, dynamic_load({{"EXAM", "P", 4}, {"SURG", "C", 2}}), "JT");
  const auto recalled =
      story.run(two_days_ago + hours{3}, gravity_load({{"ENDO", "W", 2}}, Ending::Recalled), "MB");
  const auto yesterday = story.morning(now, 1);
  const auto implants =
      story.run(yesterday, dynamic_load({{"IMPL", "P", 2}}, Ending::Quarantined), "MB");
  const auto failed =
      story.run(yesterday + hours{2}, gravity_load({{"HYG", "P", 3}}, Ending::TooShort), "JT");
  const auto waiting =
      story.run(yesterday + hours{4}, dynamic_load({{"EXAM", "P", 3}}, Ending::Unreleased), "JT");
  const auto unstarted =
      story.run(yesterday + hours{6}, gravity_load({{"FORC", "P", 2}}, Ending::NotStarted), "JT");
  if (good.size() < 5 || recalled.empty() || implants.empty() || failed.empty() || waiting.empty() ||
      unstarted.size() < 2) {
    return;
  }
  story.open(yesterday + hours{7}, good[1], "V-20461");
  story.withdraw(good[2]);
  story.make_void(unstarted[1]);
  story.add_case("clear", good[0]);
  story.add_case("hold", waiting[0]);
  story.add_case("quarantined", implants[0]);
  story.add_case("failed", failed[0]);
  story.add_case("recalled", recalled[0]);
  story.add_forged(good[3]);
  story.add_case("opened", good[1]);
  story.add_case("withdrawn", good[2]);
  story.add_case("never-loaded", unstarted[0]);
  story.add_case("void", unstarted[1]);
}

}  // namespace

Result<std::vector<DemoCase>> make_demo(const Ports& ports, const PrintShop& shop,
                                        const OfficeRequest& request, const DemoTables& tables) {
  const core::Instant now = ports.clock.now();
  Story story{ports, shop};
  const int first_day = request.shelf_life_days ? *request.shelf_life_days + 7 : 49;
  story.begin(story.morning(now, std::max(first_day, 49)), request, tables);
  play_expired(story, now, request);
  play_ordinary_weeks(story, now);
  play_cases(story, now);
  return story.result();
}

}  // namespace loadlight::app
