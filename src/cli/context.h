// What every command has at hand: the global options, the words, the office once it is opened, and where
// answers go.
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>

#include <nlohmann/json.hpp>

#include "loadlight/app/open_office.h"
#include "loadlight/app/queued_acts.h"
#include "loadlight/cli/program.h"
#include "loadlight/report/words.h"

namespace loadlight::cli {

using Json = nlohmann::ordered_json;

inline constexpr int kDone = 0;
inline constexpr int kFailed = 1;
inline constexpr int kWrongUsage = 2;
inline constexpr int kHold = 10;
inline constexpr int kRefused = 20;

using app::OpenOffice;
using app::OpenShop;

class Context final {
 public:
  explicit Context(const World& around) : world(around) {}

  const World& world;
  std::string office_folder;
  std::string operator_code;
  bool json = false;
  std::optional<report::Words> words;
  std::function<int()> action;  // set by the command that was named

  // Writes what waits at this station, too.
  core::Result<std::unique_ptr<OpenOffice>> open_office() const;
  core::Result<std::unique_ptr<OpenShop>> open_shop() const;
  core::Result<label::LabelTemplate> find_template(std::string_view name) const;

  // Of what was done without the record, once it is written: how much, and every opening that it speaks against.
  void tell_settled(const app::Ports& ports, const app::QueueReply& done) const;
  std::string opening_text(const app::Ports& ports, const app::ContradictedOpening& opening) const;

  // Keys that others read sign their labels too: said, on standard error, for as long as it is so.
  void warn_of_exposed() const;

  // BadValue for a file that would stand in the office's folder, beside the record and the keys, and is none
  // of the kinds that we print there: nothing we write may take their place.
  core::Result<void> spare_the_office(const std::string& out) const;

  std::string text(std::string_view key, const core::Details& details = {}) const;

  // One answer: as JSON when asked for, else as lines for a person. Flushed.
  void answer(const Json& object, const std::string& for_people) const;
  // A sentence for a person, on standard error; never mixed into JSON.
  void tell(const std::string& text) const;
  // Says what failed and what to do; the exit status by the failure's kind.
  int fail(const core::Failure& failure) const;
  // Runs the action; again when another station's change was met before anything was said or written.
  int run_action();
  // `status`, unless standard output did not take every answer: then that is said, and is the failure.
  int delivered(int status) const;

 private:
  int say(const core::Failure& failure) const;
  void settle_queue(const app::Ports& ports) const;

  // The action's present run.
  mutable bool may_run_again_ = false;             // and nothing was said yet
  mutable std::optional<core::Failure> unsaid_;  // a failure that another run may cure
  std::int64_t commits_before_ = 0;
};

}  // namespace loadlight::cli
