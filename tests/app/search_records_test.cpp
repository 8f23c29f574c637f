#include "loadlight/app/search_records.h"

#include <algorithm>

#include "app/office_at_work.h"

namespace loadlight::tests {
namespace {

using app::FoundBy;
using core::LoadName;

app::RecordsReply search(OfficeAtWork& office, app::RecordsRequest request) {
  const auto unit = must(office.store.begin(port::Access::Read));
  return must(app::search_records(office.ports(), *unit, request));
}

app::RecordsReply search(OfficeAtWork& office, const std::string& text) {
  app::RecordsRequest request;
  request.text = text;
  return search(office, std::move(request));
}

bool has(const app::RecordsReply& reply, FoundBy by) {
  return std::any_of(reply.groups.begin(), reply.groups.end(), [&](const auto& group) { return group.by == by; });
}

const app::FoundGroup& group_of(const app::RecordsReply& reply, FoundBy by) {
  const auto found = std::find_if(reply.groups.begin(), reply.groups.end(),
                                  [&](const auto& group) { return group.by == by; });
  REQUIRE(found != reply.groups.end());
  return *found;
}

}  // namespace

TEST_CASE("A package is found by its id as it is typed, by its label and by part of its id") {
  OfficeAtWork office;
  const core::Package package = office.print({"S1", 1}).front();
  std::string lower = package.id.grouped();
  for (char& c : lower) c = static_cast<char>(std::tolower(c));
  for (const std::string& text : {package.id.text(), lower, package.payload, " " + package.id.text() + " "}) {
    CAPTURE(text);
    CHECK(group_of(search(office, text), FoundBy::Package).packages.front().id == package.id);
  }
  CHECK(group_of(search(office, package.id.text().substr(2, 4)), FoundBy::IdPart).packages.front().id == package.id);
  CHECK(search(office, package.id.text().substr(0, 2)).groups.empty());
  std::string forged = package.payload;
  forged.back() = forged.back() == '0' ? '1' : '0';
  CHECK_FALSE(has(search(office, forged), FoundBy::Package));
}

TEST_CASE("Loads are found by name, by number, by sterilizer and by who decided them") {
  OfficeAtWork office;
  office.released_package({"S1", 1});
  CHECK(group_of(search(office, "s1-1"), FoundBy::Load).loads.front().name == LoadName{"S1", 1});
  CHECK(group_of(search(office, "1"), FoundBy::Load).loads.size() == 1);
  CHECK(group_of(search(office, "S1"), FoundBy::Load).of == "S1");
  const std::string by = office.load({"S1", 1}).decided_by;
  CHECK(group_of(search(office, by), FoundBy::Decider).loads.size() == 1);
  CHECK(search(office, "S1-2").groups.empty());
}

TEST_CASE("An opened package is found by its visit reference, and by nothing like it") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  must(app::open_package(office.ports(),
                         {"CD", package.id.text(), "V-17", true, true, core::IndicatorLook::Changed, ""}));
  CHECK(group_of(search(office, "V-17"), FoundBy::Visit).packages.front().id == package.id);
  CHECK(group_of(search(office, "v-17"), FoundBy::Visit).packages.size() == 1);
  CHECK_FALSE(has(search(office, "V-1"), FoundBy::Visit));
}

TEST_CASE("Packages are found by contents and by packer, by code and by part of the name") {
  OfficeAtWork office;
  const core::Package package = office.print({"S1", 1}).front();
  const auto unit = must(office.store.begin(port::Access::Read));
  const std::string name = must(unit->contents().find("EXAM"))->name;
  CHECK(group_of(search(office, "exam"), FoundBy::Contents).packages.front().id == package.id);
  CHECK(group_of(search(office, name), FoundBy::Contents).of == "EXAM");
  CHECK(group_of(search(office, package.operator_code), FoundBy::Operator).packages.size() == 1);
}

TEST_CASE("A day, or a span of days, finds its packages and loads, and narrows the rest") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  const core::CivilDate day = package.process_date;
  const auto of_day = search(office, day.iso());
  CHECK(group_of(of_day, FoundBy::PackageDays).packages.size() == 1);
  CHECK(group_of(of_day, FoundBy::LoadDays).loads.size() == 1);
  app::RecordsRequest request{"exam", day.plus_days(1), {}, {}, {}, 0};
  CHECK_FALSE(has(search(office, request), FoundBy::Contents));
  request.first = day;
  request.last = day;
  CHECK(has(search(office, request), FoundBy::Contents));
  request.last = day.plus_days(-1);
  const auto unit = must(office.store.begin(port::Access::Read));
  CHECK(code_of(app::search_records(office.ports(), *unit, request)) == "bad-value");
}

TEST_CASE("More than fit at once are paged, each group by itself") {
  OfficeAtWork office;
  const auto printed = office.print({"S1", 1}, app::kFoundAtOnce + 3);
  const auto first = search(office, "EXAM");
  const auto& group = group_of(first, FoundBy::Contents);
  CHECK(group.packages.size() == app::kFoundAtOnce);
  CHECK(group.more);
  const auto rest = search(office, {"EXAM", {}, {}, FoundBy::Contents, "EXAM", app::kFoundAtOnce});
  REQUIRE(rest.groups.size() == 1);
  CHECK(rest.groups.front().packages.size() == 3);
  CHECK_FALSE(rest.groups.front().more);
}

TEST_CASE("Nothing asked finds nothing") {
  OfficeAtWork office;
  office.released_package();
  CHECK(search(office, "").groups.empty());
  CHECK(search(office, "   ").groups.empty());
  CHECK(search(office, "<script>").groups.empty());
}

}  // namespace loadlight::tests
