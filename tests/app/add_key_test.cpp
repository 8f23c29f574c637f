#include "loadlight/app/add_key.h"

#include "app/office_at_work.h"

namespace loadlight::tests {
namespace {

// Whatever else a world has stays empty, however many members it has.
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wmissing-field-initializers"
// An office whose file of keys is the keyring itself.
struct KeyOffice {
  OfficeAtWork office;
  int added = 0;
  app::World world{.clock = office.clock, .files = office.files};

  KeyOffice() {
    world.add_key = [this](const std::string&) -> core::Result<void> {
      office.keyring.change_key("key " + std::to_string(++added));
      return {};
    };
  }
  core::Result<app::AddedKey> add(const char* who = "AB") { return app::add_key(world, "office", office.ports(), who); }
};
#pragma GCC diagnostic pop

}  // namespace

TEST_CASE("A key is added by a lead and on record with who and when and never itself") {
  KeyOffice at;
  REQUIRE(code_of(at.add("CD")) == "lead-required");
  REQUIRE(at.added == 0);
  const auto key = must(at.add());
  REQUIRE(key.number == 2);
  REQUIRE_FALSE(key.found);
  const auto keys = must(app::list_keys(at.office.ports()));
  REQUIRE(keys.size() == 2);
  REQUIRE_FALSE(keys[0].signs);
  REQUIRE(keys[0].at);
  REQUIRE(keys[1].signs);
  REQUIRE(keys[1].operator_code == "AB");
  const auto events = must(must(at.office.store.begin(port::Access::Read))
                               ->events_about("key-2", core::EventKind::KeyAdded));
  REQUIRE(events.size() == 1);
  REQUIRE(events[0].details.empty());
}

TEST_CASE("Labels from before a new key are checked as they were") {
  KeyOffice at;
  const auto package = at.office.released_package();
  must(at.add());
  REQUIRE(at.office.check(package.payload).verdict.outcome() == core::Outcome::Clear);
}

TEST_CASE("A key that got into its file alone is told and recorded by the next call and no other is added") {
  KeyOffice at;
  at.office.store.break_call(0, broken_store());
  must(at.add());
  const int calls = at.office.store.calls();
  for (int nth = 1; nth <= calls; ++nth) {
    KeyOffice cut;
    cut.office.store.break_call(nth, broken_store());
    CAPTURE(nth, calls);
    REQUIRE_FALSE(cut.add());
    const bool in_file = cut.added == 1;
    const auto keys = must(app::list_keys(cut.office.ports()));
    REQUIRE(keys.size() == (in_file ? 2u : 1u));
    REQUIRE(keys.back().at.has_value() == !in_file);
    const auto again = must(cut.add());
    REQUIRE(again.number == 2);
    REQUIRE(again.found == in_file);
    REQUIRE(cut.added == 1);
  }
}

TEST_CASE("A file of keys that takes no more leaves no event") {
  KeyOffice at;
  at.world.add_key = [](const std::string&) -> core::Result<void> {
    return core::Failure{core::FailureCode::DiskFull, {}, {}};
  };
  const std::size_t before = at.office.ledger_size();
  REQUIRE(code_of(at.add()) == "disk-full");
  REQUIRE(at.office.ledger_size() == before);
}

}  // namespace loadlight::tests
