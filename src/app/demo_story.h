// The invented office's history, played step by step through the use cases on a clock turned by hand. The
// first thing that goes wrong ends it: later steps do nothing.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/make_demo.h"
#include "loadlight/app/print_labels.h"

namespace loadlight::app {

class HandTurnedClock final : public port::Clock {
 public:
  core::Instant now() const override { return now_; }
  void set(core::Instant to) { now_ = to; }
  void pass(core::Minutes time) { now_ += time; }

 private:
  core::Instant now_{};
};

// Labels are laid out, so that the record is whole, but no paper is made.
class NoPress final : public label::Press {
 public:
  core::Result<std::string> print(const std::vector<label::Page>&, core::Instant) const override {
    return std::string{};
  }
};

// Reads the sample logs; writes nothing.
class DemoFiles final : public port::Files {
 public:
  explicit DemoFiles(const std::vector<DemoLog>& logs) : logs_(logs) {}

  core::Result<std::string> read(const std::string& path, std::size_t limit) const override;
  core::Result<void> each_chunk(const std::string& path,
                                const std::function<bool(const Chunk&)>& take) const override;
  core::Result<void> write(const std::string&, std::string_view) const override { return {}; }
  const DemoLog* find(const std::string& name) const;

 private:
  const std::vector<DemoLog>& logs_;
};

// What went wrong first.
class Trouble final {
 public:
  bool none() const { return !failure_; }
  const core::Failure& failure() const { return *failure_; }
  template <class T>
  T take(core::Result<T> result, T otherwise) {
    if (result) return std::move(*result);
    if (!failure_) failure_ = result.failure();
    return otherwise;
  }
  template <class T>
  void note(const core::Result<T>& result) {
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
  const char* log = nullptr;  // a sample log instead of readings
  enum class Spores { None, Office, MailIn } spores = Spores::None;
};

class Story final {
 public:
  Story(const Ports& ports, const PrintShop& shop, const DemoTables& tables);

  void begin(core::Instant at, const OfficeRequest& request);

  // Eight in the morning, local time, `days` before `now`.
  core::Instant morning(core::Instant now, int days) const;
  std::chrono::weekday weekday(core::Instant at) const;
  core::CivilDate day_of(core::Instant at) const { return zone_.local_date(at); }

  // Plays one load from its labels to its ending; its packages, as they were printed.
  std::vector<core::Package> run(core::Instant at, const LoadPlan& plan, const std::string& who);
  // The Bowie-Dick test of a day, over half an hour.
  void test_air_removal(core::Instant at, const std::string& who);
  // Every indicator that is still in the incubator or away is reported as not grown.
  void read_spores(core::Instant at, core::BiologicalReader reader);
  // The one of this load grew. From there to the end of the recall, in one long day.
  void spores_grew(core::Instant at, const core::LoadName& load);

  void open(core::Instant at, const core::Package& package, const std::string& visit);
  void withdraw(const core::Package& package);
  void make_void(const core::Package& package);

  void add_case(const std::string& name, const core::Package& package);
  // A label that names a real package but was signed by nobody here.
  void add_forged(const core::Package& package);
  core::Result<std::vector<DemoCase>> result() const;

 private:
  PrintShop quiet(const PrintShop& shop) const;
  std::vector<core::Package> print(const LoadPlan& plan, const core::LoadName& load, const std::string& who);
  void give_evidence(const LoadPlan& plan, const core::LoadName& load, const std::string& who);
  void end(const LoadPlan& plan, const core::LoadName& load, const std::vector<core::Package>& packages,
           const std::string& who);
  void retest(const core::LoadName& as, const std::string& program, int incident);
  bool take_next_step(int incident, const core::LoadName& load, const std::string& program);
  void account_for_packages(int incident);

  HandTurnedClock clock_;
  NoPress press_;
  const port::Zone& zone_;
  const DemoTables& tables_;
  DemoFiles files_;
  Ports ports_;
  PrintShop shop_;
  Trouble trouble_;
  std::vector<DemoCase> cases_;
};

// What a sterilizer in good order shows: a little more than its program asks.
core::Readings good_run(const char* program, double pressure_kpa);

}  // namespace loadlight::app
