#include "loadlight/app/watch_packages.h"

#include "app/office_at_work.h"

namespace loadlight::tests {
namespace {

using app::CheckItem;
using app::PackageWatch;
using core::Outcome;
using core::Reason;
using std::chrono::milliseconds;

const core::LoadName kLoad{"S1", 1};

// A camera of ten frames a second.
class Stream final {
 public:
  explicit Stream(OfficeAtWork& office) : watch_(office.ports(), {}) {}

  std::vector<Outcome> see(const std::vector<CheckItem>& items) {
    now_ += milliseconds{100};
    std::vector<Outcome> shown;
    for (const auto& reply : watch_.see(items, now_)) shown.push_back(reply.verdict.outcome());
    return shown;
  }
  std::vector<Outcome> see(const core::Package& package) { return see({item(package)}); }
  std::vector<Outcome> see_nothing() { return see(std::vector<CheckItem>{}); }
  void wait(milliseconds time) { now_ += time; }

  static CheckItem item(const core::Package& package, double left = 0) {
    const label::Quad corners{{{left, 0}, {left + 100, 0}, {left + 100, 100}, {left, 100}}};
    return {CheckItem::How::Symbol, package.payload, corners};
  }

 private:
  PackageWatch watch_;
  PackageWatch::Time now_{};
};

using Outcomes = std::vector<Outcome>;
const Outcomes kNothing{};

std::size_t checks_of(OfficeAtWork& office, const core::Package& package) {
  const auto unit = must(office.store.begin(port::Access::Read));
  return must(unit->events_about(package.id.text(), core::EventKind::PackageChecked)).size();
}

}  // namespace

TEST_CASE("A package in a released load is Clear only when two frames in a row say so") {
  OfficeAtWork office;
  const auto package = office.released_package();
  Stream stream{office};
  CHECK(stream.see(package) == kNothing);
  CHECK(stream.see(package) == Outcomes{Outcome::Clear});
  CHECK(stream.see(package) == kNothing);
}

TEST_CASE("The same label twice in one frame is not yet two frames") {
  OfficeAtWork office;
  const auto package = office.released_package();
  Stream stream{office};
  CHECK(stream.see({Stream::item(package), Stream::item(package, 900)}) == kNothing);
}

TEST_CASE("What speaks against a package shows in the first frame") {
  OfficeAtWork office;
  const auto package = office.print(kLoad).front();
  Stream stream{office};
  CHECK(stream.see(package) == Outcomes{Outcome::DoNotUse});
  CHECK(stream.see(package) == kNothing);
}

TEST_CASE("A record that turns against a package in view shows at once") {
  OfficeAtWork office;
  const auto package = office.released_package();
  Stream stream{office};
  stream.see(package);
  stream.see(package);
  must(app::recall_load(office.ports(), {"AB", package.load, "door seal"}));
  CHECK(stream.see(package) == Outcomes{Outcome::DoNotUse});
}

TEST_CASE("A verdict that gets better shows when two frames agree") {
  OfficeAtWork office;
  const auto package = office.print(kLoad).front();
  office.start(kLoad, {package});
  office.finish(kLoad);
  office.give_evidence(kLoad);
  Stream stream{office};
  CHECK(stream.see(package) == Outcomes{Outcome::Hold});
  office.release(kLoad);
  CHECK(stream.see(package) == kNothing);
  CHECK(stream.see(package) == Outcomes{Outcome::Clear});
}

TEST_CASE("An old label seen on a package once holds it until it has left the view") {
  OfficeAtWork office;
  const auto package = office.released_package();
  const auto old = office.print({"S1", 2}).front();
  Stream stream{office};
  const auto both = stream.see({Stream::item(package), Stream::item(old, 60)});
  REQUIRE(both.size() == 2);
  CHECK(both.front() == Outcome::Hold);
  for (int frame = 0; frame < 5; ++frame) CHECK(stream.see(package) == kNothing);
  stream.wait(std::chrono::seconds{4});
  CHECK(stream.see(package) == kNothing);
  CHECK(stream.see(package) == Outcomes{Outcome::Clear});
}

TEST_CASE("A package that comes back is answered anew, one that blinks is not") {
  OfficeAtWork office;
  const auto package = office.released_package();
  Stream stream{office};
  stream.see(package);
  stream.see(package);
  stream.see_nothing();
  CHECK(stream.see(package) == kNothing);
  stream.wait(std::chrono::seconds{4});
  stream.see_nothing();
  CHECK(stream.see(package) == kNothing);
  CHECK(stream.see(package) == Outcomes{Outcome::Clear});
}

TEST_CASE("Each verdict that is shown is one check in the ledger") {
  OfficeAtWork office;
  const auto package = office.released_package();
  Stream stream{office};
  for (int frame = 0; frame < 20; ++frame) stream.see(package);
  CHECK(checks_of(office, package) == 1);
}

TEST_CASE("Whichever call of the store fails, no Clear is shown that left no trace") {
  int calls = 1;
  for (int nth = 0; nth <= calls; ++nth) {
    OfficeAtWork office;
    const auto package = office.released_package();
    Stream stream{office};
    office.store.break_call(nth, broken_store());
    std::size_t clear = 0;
    for (int frame = 0; frame < 2; ++frame) {
      for (const Outcome outcome : stream.see(package)) clear += outcome == Outcome::Clear;
    }
    if (nth == 0) calls = office.store.calls();
    CAPTURE(nth, calls);
    CHECK(checks_of(office, package) >= clear);
    for (int frame = 0; frame < 3; ++frame) {
      for (const Outcome outcome : stream.see(package)) clear += outcome == Outcome::Clear;
    }
    CHECK(clear == 1);
  }
}

}  // namespace loadlight::tests
