#include "loadlight/app/make_demo.h"

#include <algorithm>

#include "app/demo_story.h"

namespace loadlight::app {
namespace {

using core::Result;
using std::chrono::hours;
using std::chrono::minutes;

LoadPlan dynamic_load(std::vector<Batch> batches, Ending ending = Ending::Released) {
  const char* program = "dynamic-132-wrapped";
  return {"S1", program, good_run(program, 293), std::move(batches), ending, "CAB1"};
}
LoadPlan gravity_load(std::vector<Batch> batches, Ending ending = Ending::Released) {
  const char* program = "gravity-121-wrapped";
  return {"S2", program, good_run(program, 209), std::move(batches), ending, "CAB2"};
}
// By the maker's own program, with the sterilizer's log.
LoadPlan logged_load(const char* log, std::vector<Batch> batches) {
  LoadPlan plan{"S1", "P134", {}, std::move(batches), Ending::Released, "CAB1"};
  plan.log = log;
  return plan;
}

const char* packer(int day) {
  return day % 3 == 0 ? "MB" : "JT";
}

std::string visit(int day, int nth) {
  return "V-" + std::to_string(10000 + day * 10 + nth);
}

// The Saturday on which the laboratory's letter is opened: the spores of that week's Monday grew.
int incident_saturday(const Story& story, core::Instant now) {
  int day = 24;
  while (story.weekday(story.morning(now, day)) != std::chrono::Saturday) --day;
  return day;
}

// Six weeks of ordinary work: the day's test, two loads a weekday, spores on Mondays, some packages used on
// the working day after; and one week whose spores grew.
class OrdinaryWeeks final {
 public:
  OrdinaryWeeks(Story& story, core::Instant now)
      : story_(story), now_(now), bad_saturday_(incident_saturday(story, now)) {}

  void play() {
    for (int day = 42; day >= 3; --day) {
      const auto weekday = story_.weekday(story_.morning(now_, day));
      if (weekday == std::chrono::Saturday) play_saturday(day);
      if (weekday != std::chrono::Saturday && weekday != std::chrono::Sunday) {
        play_weekday(day, weekday == std::chrono::Monday);
      }
    }
  }

 private:
  void play_saturday(int day) {
    const auto at = story_.morning(now_, day) + hours{1};
    if (day == bad_saturday_ && monday_load_) {
      story_.spores_grew(at, *monday_load_);
      sets_.clear();  // called back
    } else {
      story_.read_spores(at, core::BiologicalReader::MailIn);
    }
  }

  void play_weekday(int day, bool monday) {
    const auto morning = story_.morning(now_, day);
    story_.test_air_removal(morning - minutes{45}, packer(day));
    story_.read_spores(morning - minutes{10}, core::BiologicalReader::Office);
    LoadPlan early = dynamic_load({{"EXAM", "P", 5}, {"HYG", "P", 3}});
    LoadPlan late = gravity_load({{"ENDO", "W", 2}, {"FORC", "P", 2}});
    if (monday) early.spores = LoadPlan::Spores::Office;
    if (monday) late.spores = LoadPlan::Spores::MailIn;
    auto exams = story_.run(morning, early, packer(day));
    use(exams_, morning + hours{2}, day, 4, 0);
    use(sets_, morning + hours{2} + minutes{50}, day, 1, 4);
    sets_ = story_.run(morning + hours{3}, late, packer(day + 1));
    exams_ = std::move(exams);
    if (monday && !sets_.empty()) monday_load_ = sets_.front().load;
  }

  void use(const std::vector<core::Package>& shelf, core::Instant from, int day, std::size_t most, int nth) {
    for (std::size_t used = 0; used < std::min(most, shelf.size()); ++used) {
      story_.open(from + minutes{12 * used}, shelf[used], visit(day, nth + static_cast<int>(used)));
    }
  }

  Story& story_;
  core::Instant now_;
  int bad_saturday_;
  std::vector<core::Package> exams_;
  std::vector<core::Package> sets_;
  std::optional<core::LoadName> monday_load_;
};

void play_expired(Story& story, core::Instant now, const OfficeRequest& request) {
  if (!request.shelf_life_days) return;
  const auto morning = story.morning(now, *request.shelf_life_days + 6);
  story.test_air_removal(morning - minutes{45}, "MB");
  const auto old = story.run(morning, dynamic_load({{"CAST", "P", 2}}), "MB");
  if (!old.empty()) story.add_case("expired", old.front());
}

// The packages of interest, on the days just before now.
void play_cases(Story& story, core::Instant now) {
  const auto two_days_ago = story.morning(now, 2);
  story.test_air_removal(two_days_ago - minutes{45}, "JT");
  const auto good =
      story.run(two_days_ago, logged_load("good-prevac-134.csv", {{"EXAM", "P", 4}, {"SURG", "C", 2}}), "JT");
  const auto recalled =
      story.run(two_days_ago + hours{3}, gravity_load({{"ENDO", "W", 2}}, Ending::Recalled), "MB");
  const auto yesterday = story.morning(now, 1);
  story.test_air_removal(yesterday - minutes{45}, "MB");
  LoadPlan quarantined = dynamic_load({{"IMPL", "P", 2}}, Ending::Quarantined);
  quarantined.spores = LoadPlan::Spores::Office;
  const auto implants = story.run(yesterday, quarantined, "MB");
  LoadPlan short_one = logged_load("short-exposure.csv", {{"HYG", "P", 3}});
  short_one.ending = Ending::TooShort;
  const auto failed = story.run(yesterday + hours{2}, short_one, "JT");
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

// So that today's loads can be released: over before now, and within today where the night allows it.
void play_this_morning(Story& story, core::Instant now) {
  const auto at = now - minutes{40};
  if (story.day_of(at) == story.day_of(now)) story.test_air_removal(at, "JT");
}

}  // namespace

Result<std::vector<DemoCase>> make_demo(const Ports& ports, const PrintShop& shop,
                                        const OfficeRequest& request, const DemoTables& tables) {
  const core::Instant now = ports.clock.now();
  Story story{ports, shop, tables};
  const int first_day = request.shelf_life_days ? *request.shelf_life_days + 7 : 49;
  story.begin(story.morning(now, std::max(first_day, 49)), request);
  play_expired(story, now, request);
  OrdinaryWeeks{story, now}.play();
  play_cases(story, now);
  play_this_morning(story, now);
  return story.result();
}

}  // namespace loadlight::app
