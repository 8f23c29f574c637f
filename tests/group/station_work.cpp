// One station's working day, for tests of many stations at once:
//
//     station_work prepare ADMIN OFFICE ROLE       tables in an empty database, and an office for this role
//     station_work found ADDRESS                   what an office begins with
//     station_work work ADDRESS STATION OPERATIONS SEED BEGUN JOURNAL
//     station_work watch ADDRESS                   releases a package and checks it again and again
//     station_work ledger ADDRESS                  every entry, a line each
//     station_work verify ADDRESS                  exit 0 when the record is whole
//
// `work` does so many operations and repeats each as often as another station's change came between. BEGUN is when the
// stations' clocks show noon, in milliseconds. A line of the journal is written once an operation is over: its number,
// name, subject, outcome ("done" or a failure's code), how often it was repeated, the time, and its entries in the
// ledger. When the database is out of reach it goes on trying, for two minutes at most. `watch` prints when it asked, when it had the answer, and
// which.
#include <charconv>
#include <iostream>
#include <thread>

#include "group/station_operations.h"
#include "loadlight/app/again.h"
#include "loadlight/app/check_packages.h"
#include "loadlight/store/group_record.h"

namespace loadlight::tests {
namespace {

using core::FailureCode;

constexpr std::chrono::minutes kLongestAway{2};

bool is_away(FailureCode code) {
  return code == FailureCode::OfficeUnreadable || code == FailureCode::OfficeReadOnly || code == FailureCode::OfficeBusy;
}

// So often as the weights say.
Plan some_plan(Station& station) {
  int all = 0;
  for (const OperationRow& row : all_operations()) all += row.weight;
  int drawn = station.draw(all);
  for (const OperationRow& row : all_operations()) {
    if (drawn < row.weight) return row.plan;
    drawn -= row.weight;
  }
  return all_operations().front().plan;
}

class Workday final {
 public:
  Workday(Station& station, int operations) : station_(station), operations_(operations) {}

  void run() {
    while (number_ < operations_) {
      const auto attempt = some_plan(station_)(station_);
      if (!attempt) {
        after(attempt.failure(), "look", "", 0);
      } else if (*attempt) {
        ++number_;
        carry_out(**attempt);
      }
    }
  }

 private:
  void carry_out(const Attempt& attempt) {
    int repeated = 0;
    auto done = attempt.act();
    while (!done && app::was_changed_meanwhile(done.failure())) {
      app::pause_after(++repeated);
      done = attempt.act();
    }
    if (!done) return after(done.failure(), attempt.operation, attempt.subject, repeated);
    reached_ = std::chrono::steady_clock::now();
    station_.note(number_, attempt.operation, attempt.subject, "done", repeated);
  }

  void after(const core::Failure& failure, std::string_view operation, const std::string& subject, int repeated) {
    station_.note(number_, operation, subject, core::to_text(failure.code), repeated);
    const auto now = std::chrono::steady_clock::now();
    if (!is_away(failure.code)) reached_ = now;
    if (now - reached_ > kLongestAway) give_up("no way back to the office", failure);
    if (is_away(failure.code)) std::this_thread::sleep_for(std::chrono::milliseconds{100});
  }

  Station& station_;
  const int operations_;
  int number_ = 0;
  std::chrono::steady_clock::time_point reached_ = std::chrono::steady_clock::now();
};

template <class Number>
Number number_of(const std::string& text) {
  Number number{};
  std::from_chars(text.data(), text.data() + text.size(), number);
  return number;
}

int prepare(const std::vector<std::string>& words) {
  need("make the tables", store::prepare_group(words.at(0)));
  need("admit the office", store::admit_office(words.at(0), words.at(1), words.at(2)));
  return 0;
}

int found(const std::vector<std::string>& words) {
  Station station{{.address = words.at(0), .name = "FOUNDER"}};
  found_office(station);
  return 0;
}

int work(const std::vector<std::string>& words) {
  const std::chrono::milliseconds begun{number_of<std::int64_t>(words.at(4))};
  Station station{{.address = words.at(0),
                   .name = words.at(1),
                   .seed = number_of<std::uint64_t>(words.at(3)),
                   .begun = std::chrono::system_clock::time_point{begun},
                   .journal = words.at(5)}};
  Workday{station, number_of<int>(words.at(2))}.run();
  return 0;
}

std::int64_t moment() {
  using namespace std::chrono;
  return duration_cast<milliseconds>(system_clock::now().time_since_epoch()).count();
}

[[noreturn]] int watch(const std::vector<std::string>& words) {
  Station station{{.address = words.at(0), .name = "WATCH"}};
  const std::string label = release_package(station);
  app::CheckRequest request;
  request.items = {{app::CheckItem::How::Symbol, label, std::nullopt}};
  for (;;) {
    const std::int64_t asked = moment();
    const auto reply = app::check_packages(station.ports(), request).front();
    std::cout << asked << ' ' << moment() << ' ' << core::to_text(reply.verdict.outcome()) << std::endl;
    std::this_thread::sleep_for(std::chrono::milliseconds{100});
  }
}

int ledger(const std::vector<std::string>& words) {
  const auto store = need("open the office", store::open_group_record(words.at(0), {.station = "READER"}));
  need("read the ledger", store->each_entry([](const core::LedgerEntry& entry) {
    std::cout << entry.sequence << '\t' << entry.chain << '\t' << entry.link << '\t' << entry.hash << '\t' << entry.kind
              << '\t' << entry.subject << '\t' << entry.body << '\n';
    return true;
  }));
  return 0;
}

int verify(const std::vector<std::string>& words) {
  const auto store = need("open the office", store::open_group_record(words.at(0), {.station = "READER"}));
  const auto altered = need("verify the ledger", store->verify());
  for (const port::Alteration& one : altered) std::cout << one.where << ": " << one.what << '\n';
  return altered.empty() ? 0 : 20;
}

int run(const std::string& what, const std::vector<std::string>& words) {
  if (what == "prepare") return prepare(words);
  if (what == "found") return found(words);
  if (what == "work") return work(words);
  if (what == "watch") watch(words);
  if (what == "ledger") return ledger(words);
  if (what == "verify") return verify(words);
  return 2;
}

}  // namespace
}  // namespace loadlight::tests

int main(int argc, char** argv) {
  if (argc < 3) return 2;
  return loadlight::tests::run(argv[1], {argv + 2, argv + argc});
}
