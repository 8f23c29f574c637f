// An invented office over the store in memory, with the steps that most tests begin by.
#pragma once

#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "app/hand_fakes.h"
#include "label/plain_gauge.h"
#include "loadlight/app/check_packages.h"
#include "loadlight/app/load_evidence.h"
#include "loadlight/app/load_life.h"
#include "loadlight/app/open_package.h"
#include "loadlight/app/ports.h"
#include "loadlight/app/print_labels.h"
#include "loadlight/app/release_load.h"
#include "loadlight/report/words.h"
#include "store/memory_store.h"

namespace loadlight::tests {

// The value, or the end of the test with the failure's code.
template <class T>
T must(core::Result<T> result) {
  if (!result) FAIL("failed with " << core::to_text(result.failure().code));
  return std::move(*result);
}
inline void must(const core::Result<void>& result) {
  if (!result) FAIL("failed with " << core::to_text(result.failure().code));
}

// "ok", or the failure's code.
template <class T>
std::string code_of(const core::Result<T>& result) {
  return result ? "ok" : std::string{core::to_text(result.failure().code)};
}

std::string file_text(const std::string& path);
const report::Words& english();

// Opened on 25 November 2026 at noon UTC, by lead AB and staff CD. Sterilizers: S1 dynamic type B, S2
// gravity type N. Contents: EXAM, IMPL (implant), HOLLOW. Kinds: PCH pouch, CAS wrapped cassette, UNW
// unwrapped. Stocks: ROLL rated, DIRECT direct thermal, NEW unrated.
//
// Unless a test is about them, the lead has set the daily air removal test aside: it would take a load
// number of every day.
enum class DailyTests { SetAside, AsTheProfileAsks };

class OfficeAtWork {
 public:
  explicit OfficeAtWork(std::string profile = "us-cdc-2003", std::optional<int> shelf_life_days = 180,
                        DailyTests daily = DailyTests::SetAside);

  app::Ports ports() { return {store, clock, zone, keyring}; }
  app::PrintShop shop() const;
  app::PrintRequest print_request(const core::LoadName& load, std::string contents = "EXAM") const;

  // Prints labels of kind PCH for today.
  std::vector<core::Package> print(const core::LoadName& load, int count = 1, std::string contents = "EXAM");
  // Opens the load with a program its sterilizer can run, adds the packages, starts it.
  core::Load start(const core::LoadName& load, const std::vector<core::Package>& packages);
  // Lets its time pass and ends it.
  core::Load finish(const core::LoadName& load);
  // Readings and an external indicator that speak for it.
  void give_evidence(const core::LoadName& load);
  app::LoadReply release(const core::LoadName& load);
  // All of it: one package in a released load.
  core::Package released_package(const core::LoadName& load = {"S1", 1}, std::string contents = "EXAM");

  app::CheckReply check(const std::string& text);
  app::CheckReply check_typed(const std::string& id);
  core::Result<app::OpenReply> open(const core::Package& package);
  core::Result<app::BiologicalReply> biological(const core::LoadName& load, core::BiologicalTest test,
                                                core::BiologicalControl control);
  // The lead sets a value of the profile.
  void set(std::string name, std::string value);

  std::optional<core::Package> package(const core::PackageId& id);
  core::Package now(const core::Package& package) { return *this->package(package.id); }
  core::Load load(const core::LoadName& name);
  std::size_t ledger_size();
  std::string newest_event_kind();

  store::MemoryStore store;
  HandClock clock;
  UtcZone zone;
  PlainKeyring keyring{"first key"};
  HandFiles files;
  HandPress press;
  PlainGauge gauge;
  BlankEncoder encoder;
};

core::Failure broken_store();

// Breaks each call of the store in turn, every time in a fresh office. `work` does one thing and yields
// whether it was done. With any call broken it must not be done, leave no trace, and be done when tried
// again.
template <class Prepare, class Work>
void require_all_or_nothing(Prepare prepare, Work work) {
  OfficeAtWork whole;
  const auto untouched = prepare(whole);
  whole.store.break_call(0, broken_store());
  REQUIRE(work(whole, untouched));
  const int calls = whole.store.calls();
  REQUIRE(calls > 2);
  for (int nth = 1; nth <= calls; ++nth) {
    OfficeAtWork office;
    const auto prepared = prepare(office);
    const std::size_t before = office.ledger_size();
    office.store.break_call(nth, broken_store());
    CAPTURE(nth, calls);
    REQUIRE_FALSE(work(office, prepared));
    REQUIRE(office.ledger_size() == before);
    REQUIRE(work(office, prepared));
  }
}

}  // namespace loadlight::tests
