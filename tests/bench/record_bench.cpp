// Fills the records of two hundred offices, or measures what people ask of them, on either engine.
//
//   record_bench fill PLACE PACKAGES       up to so many in all; goes on with what is there; progress on standard error
//   record_bench measure PLACE PACKAGES    a line a question: name, microseconds of ours, of the bare statement
//
// PLACE is a folder, or postgresql://… of a role that may do everything. Each figure is the median over four calls in
// each of fifty offices, ours and the bare statement in turn. Both are of records that were looked at a moment before,
// so that what grows is the engine's work and ours; a first look, where each has a package of its own, shows what
// fetching adds.

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <string>
#include <vector>

#include "app/package_judging.h"
#include "bench/filled_group.h"
#include "loadlight/app/list_due.h"
#include "loadlight/app/search_records.h"
#include "loadlight/app/suspect_pages.h"

namespace {

using namespace loadlight;
using bench::Group;
using store::SqlRow;

constexpr int kMeasuredOffices = 50;
constexpr int kCalls = 4;  // in each
constexpr int kUnseen = 1000;  // turns away: a package that nobody has looked at

struct Asked final {
  const app::Ports& ports;
  store::SqlSession& bare;
  int office = 0;
  int packages = 0;  // of S1 in this office
  int turn = 0;      // tells one call from the next
};

struct Question final {
  const char* name;
  const char* bare_name;
  void (*ours)(const Asked&);
  void (*bare)(const Asked&);
  bool first_look = false;
};

template <class Found>
void expect(const Found& found, bool fits, const char* what) {
  if (found && fits) return;
  std::fprintf(stderr, "record_bench: %s: not what was filled in\n", what);
  std::exit(1);
}

void expect_rows(const Asked& asked, std::string_view sql, const SqlRow& parameters, std::size_t rows, const char* what) {
  const auto found = asked.bare.rows(sql, parameters);
  expect(found, found && found->size() == rows, what);
}

std::string some_package(const Asked& asked) {
  const int number = 1 + (asked.turn * 7919 + asked.office * 104729) % asked.packages;
  return bench::package_id(asked.office, '1', number).text();
}
int some_load(const Asked& asked) {
  const int loads = asked.packages / bench::kPackagesPerLoad;
  return bench::kShelfLoads + 1 + (asked.turn * 7919 + asked.office * 104729) % std::max(1, loads - bench::kShelfLoads);
}

app::CheckRequest check_of(const std::string& package) {
  return {{{app::CheckItem::How::TypedId, package, {}}}, "MB", {}};
}

constexpr const char* kPackageById = "SELECT * FROM packages WHERE id = $1";

void judge_some_package(const Asked& asked) {
  const auto unit = asked.ports.store.begin(port::Access::Read);
  expect(unit, true, "check");
  const auto replies = app::judge_items(asked.ports, **unit, check_of(some_package(asked)));
  expect(unit, replies.size() == 1 && replies[0].load.has_value(), "check");
}
void find_some_package(const Asked& asked) {
  expect_rows(asked, kPackageById, {some_package(asked)}, 1, "bare check");
}

const Question kQuestions[] = {
    {"check, judged, first look", "the package by its id", judge_some_package, find_some_package, true},
    {"check, judged", "the package by its id", judge_some_package, find_some_package},
    {"check, judged and written", "the package by its id, and one row committed",
     [](const Asked& a) {
       const auto replies = app::check_packages(a.ports, check_of(some_package(a)));
       expect(&replies, replies.size() == 1 && replies[0].load.has_value(), "check");
     },
     [](const Asked& a) {
       expect_rows(a, kPackageById, {some_package(a)}, 1, "bare check");
       const auto put = a.bare.run("INSERT INTO bench_rows (body) VALUES ($1)", {std::string(200, 'x')});
       expect(put, true, "bare row");
     }},
    {"due", "fifty packages by their use-by day",
     [](const Asked& a) { const auto due = app::list_due(a.ports); expect(due, true, "due"); },
     [](const Asked& a) {
       const auto found = a.bare.rows("SELECT * FROM packages WHERE state = 'loaded' AND use_by <= $1 AND recalled = 0"
                                      " ORDER BY use_by, id LIMIT 50", {std::int64_t{99991231}});
       expect(found, found && !found->empty(), "bare due");
     }},
    {"search by id", "the package by its id",
     [](const Asked& a) {
       const auto unit = a.ports.store.begin(port::Access::Read);
       expect(unit, true, "search");
       const auto found = app::search_records(a.ports, **unit, {some_package(a), {}, {}, {}, {}, 0});
       expect(found, found && !found->groups.empty(), "search");
     },
     find_some_package},
    {"packages of a visit", "those of a visit by its index",
     [](const Asked& a) {
       const auto unit = a.ports.store.begin(port::Access::Read);
       expect(unit, true, "visit");
       port::PackageSearch search;
       search.visit = bench::visit_of(some_load(a));
       const auto found = (*unit)->packages().search(search, {0, 50});
       expect(found, found && !found->empty(), "visit");
     },
     [](const Asked& a) {
       const auto found = a.bare.rows("SELECT * FROM packages WHERE visit = $1 ORDER BY process_date DESC, id LIMIT 50", {bench::visit_of(some_load(a))});
       expect(found, true, "bare visit");
     }},
    {"audit of a shelf of twenty, reconciled", "those of a location by its index",
     [](const Asked& a) {
       const auto unit = a.ports.store.begin(port::Access::Read);
       expect(unit, true, "audit");
       const auto expected = (*unit)->packages().at_location("CAB1");
       expect(expected, expected && expected->size() == bench::kShelfLoads * bench::kPackagesPerLoad, "audit");
       app::CheckRequest seen;
       for (const core::Package& package : *expected) seen.items.push_back({app::CheckItem::How::TypedId, package.id.text(), {}});
       expect(unit, app::judge_items(a.ports, **unit, seen).size() == expected->size(), "audit");
     },
     [](const Asked& a) {
       expect_rows(a, "SELECT * FROM packages WHERE state = 'loaded' AND location = $1 ORDER BY process_date, id",
                   {std::string{"CAB1"}}, bench::kShelfLoads * bench::kPackagesPerLoad, "bare audit");
     }},
    {"recall, thirty suspects", "the packages of the loads in doubt",
     [](const Asked& a) {
       const auto page = app::suspects_of(a.ports, {bench::kIncident, {}, false, {0, 50}});
       expect(page, page && page->total > 0, "recall");
     },
     [](const Asked& a) {
       const auto found = a.bare.rows("SELECT p.* FROM loads l JOIN packages p ON p.load_sterilizer = l.sterilizer"
                                      " AND p.load_number = l.number WHERE l.sterilizer = 'S2' AND l.run BETWEEN 2 AND 4", {});
       expect(found, found && found->size() == 30, "bare recall");
     }},
};

double microseconds(const std::function<void()>& work) {
  const auto began = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double, std::micro>(std::chrono::steady_clock::now() - began).count();
}

double median(std::vector<double> values) {
  std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2), values.end());
  return values[values.size() / 2];
}

int measure(Group& group, int packages) {
  std::vector<std::vector<double>> ours(std::size(kQuestions)), bare(std::size(kQuestions));
  for (int step = 0; step < kMeasuredOffices; ++step) {
    const int office = step * bench::kOffices / kMeasuredOffices;
    const bench::OfficeAtHand at_hand{group, office};
    const auto session = group.bare(office);
    for (int turn = 0; turn <= kCalls; ++turn) {  // the first is not counted
      const Asked asked{at_hand.ports(), *session, office, packages, turn};
      for (std::size_t q = 0; q < std::size(kQuestions); ++q) {
        Asked of_bare = asked;
        if (kQuestions[q].first_look) {
          of_bare.turn += kUnseen;
        } else {
          kQuestions[q].ours(asked);
        }
        const double mine = microseconds([&] { kQuestions[q].ours(asked); });
        const double theirs = microseconds([&] { kQuestions[q].bare(of_bare); });
        if (turn == 0) continue;
        ours[q].push_back(mine);
        bare[q].push_back(theirs);
      }
    }
  }
  for (std::size_t q = 0; q < std::size(kQuestions); ++q) {
    std::printf("%s\t%s\t%.1f\t%.1f\n", kQuestions[q].name, kQuestions[q].bare_name, median(ours[q]), median(bare[q]));
  }
  return 0;
}

int fill(Group& group, int packages) {
  std::int64_t told = -1;
  const std::int64_t all = std::int64_t{packages} * bench::kOffices;
  bench::fill(group, packages, [&](std::int64_t done) {
    const std::int64_t hundredth = done * 100 / all;
    if (hundredth == told) return;
    told = hundredth;
    std::fprintf(stderr, "\r%lld of %lld packages", static_cast<long long>(done), static_cast<long long>(all));
  });
  std::fputs("\n", stderr);
  return 0;
}

}  // namespace

int main(int count, char** values) {
  const std::string what = count == 4 ? values[1] : "", place = count == 4 ? values[2] : "";
  const long long packages = count == 4 ? std::atoll(values[3]) : 0;
  const long long least = bench::kOffices * bench::kPackagesPerLoad * 5;
  if ((what != "fill" && what != "measure") || packages < least || packages > 1'000'000'000 || packages % least != 0) {
    std::fprintf(stderr, "usage: record_bench fill|measure PLACE PACKAGES (a multiple of %lld)\n", least);
    return 2;
  }
  const bool database = place.find("://") != std::string::npos;
  const auto group = database ? bench::database_group(place) : bench::folder_group(place);
  const int each = static_cast<int>(packages / bench::kOffices);
  return what == "fill" ? fill(*group, each) : measure(*group, each);
}
