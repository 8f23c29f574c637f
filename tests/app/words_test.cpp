#include "app/office_at_work.h"

#include <algorithm>
#include <cctype>
#include <set>

#include "loadlight/app/office_tables.h"
#include "loadlight/core/cycle_criteria.h"
#include "loadlight/core/due.h"
#include "loadlight/core/incident_steps.h"
#include "loadlight/core/packing_steps.h"
#include "loadlight/core/profiles.h"
#include "loadlight/label/fields.h"

// Every code that a person may be shown has its words in the English catalogue.

namespace loadlight::tests {
namespace {

void require_words(const std::string& key) {
  CAPTURE(key);
  REQUIRE(english().has(key));
  REQUIRE_FALSE(english().text(key).empty());
}

template <class E>
void require_words_for_states(const std::string& prefix) {
  for (const auto& term : core::Vocabulary<E>::kTerms) require_words(prefix + std::string{term.text});
}

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

bool begins_with(const std::string& text, std::string_view prefix) {
  return text.compare(0, prefix.size(), prefix) == 0;
}

}  // namespace

TEST_CASE("Every outcome, reason and note has its words, and every reason what to do") {
  for (core::Outcome outcome : {core::Outcome::Clear, core::Outcome::Hold, core::Outcome::DoNotUse}) {
    require_words("outcome." + std::string{core::to_text(outcome)});
  }
  for (core::Reason reason : core::all_reasons()) {
    require_words("reason." + std::string{core::to_text(reason)} + ".text");
    require_words("reason." + std::string{core::to_text(reason)} + ".action");
  }
  for (core::Note note : core::all_notes()) {
    require_words("note." + std::string{core::to_text(note)} + ".text");
  }
}

TEST_CASE("Every failure has its words and what to do") {
  for (core::FailureCode code : core::all_failure_codes()) {
    require_words("failure." + std::string{core::to_text(code)} + ".text");
    require_words("failure." + std::string{core::to_text(code)} + ".action");
  }
}

TEST_CASE("Every packing step has its words") {
  for (const core::PackingStep& step : core::all_packing_steps()) {
    require_words("packing." + std::string{step.code});
  }
}

TEST_CASE("Every problem of a template and every heading of a field has its words") {
  for (std::string_view problem : label::all_template_problems()) {
    require_words("template-problem." + std::string{problem});
  }
  for (label::Field field : label::all_fields()) require_words(label::heading_key(field));
}

TEST_CASE("Every table and every state has its words") {
  for (int table = 0; table <= static_cast<int>(app::OfficeTable::Consumables); ++table) {
    require_words("table." + std::string{app::text_of(static_cast<app::OfficeTable>(table)).name});
  }
  require_words_for_states<core::LoadState>("detail.state.");
  require_words_for_states<core::PackageState>("detail.state.");
  require_words_for_states<core::IncidentState>("detail.state.");
}

TEST_CASE("Every column of a table and each of its terms has its words") {
  for (int table = 0; table <= static_cast<int>(app::OfficeTable::Consumables); ++table) {
    for (const app::Column& column : app::text_of(static_cast<app::OfficeTable>(table)).columns) {
      const std::string name{column.name};
      require_words("column." + name);
      require_words("help.column." + name);
      for (std::string_view term : column.terms) require_words("term." + name + "." + std::string{term});
    }
  }
}

TEST_CASE("Every profile and each of its values has its words") {
  for (const core::Profile& profile : core::all_profiles()) {
    require_words("profile." + profile.code + ".name");
    require_words("profile." + profile.code + ".meaning");
  }
  for (std::string_view name : core::profile_value_names()) require_words("profile-value." + std::string{name});
}

TEST_CASE("Every step of an incident, what it ends in and what is missing has its words") {
  for (const core::IncidentStepRow& step : core::all_incident_steps()) {
    require_words("incident.step." + std::string{step.code});
  }
  for (const core::StepFinding& finding : core::all_step_findings()) {
    require_words("incident.finding." + std::string{finding.code});
  }
  require_words_for_states<core::ObstacleKind>("incident.obstacle.");
  require_words_for_states<core::IncidentCause>("incident.cause.");
  require_words_for_states<core::RecallReach>("incident.recall.");
  require_words_for_states<core::StepState>("step-state.");
  require_words_for_states<core::Disposition>("disposition.");
  require_words("disposition.on-shelf");
}

TEST_CASE("Every kind of thing that is due, every service and every criterion has its words") {
  require_words_for_states<core::DueKind>("due.");
  require_words_for_states<core::ServiceKind>("service.");
  for (std::string_view criterion : core::all_criteria()) {
    require_words("criterion." + std::string{criterion});
  }
  require_words_for_states<core::Standing>("standing.");
}

TEST_CASE("The catalogue words no reason, note, failure or step that the program does not have") {
  std::set<std::string> known;
  for (core::Reason reason : core::all_reasons()) {
    // As a package's reason; of a load whose page it stands on; advice where the command line's is no use.
    for (const char* use : {".text", ".action", ".of-load", ".of-load.action", ".at-station"}) {
      known.insert("reason." + std::string{core::to_text(reason)} + use);
    }
  }
  for (core::Note note : core::all_notes())
    known.insert("note." + std::string{core::to_text(note)} + ".text");
  for (core::FailureCode code : core::all_failure_codes()) {
    known.insert("failure." + std::string{core::to_text(code)} + ".text");
    known.insert("failure." + std::string{core::to_text(code)} + ".action");
    known.insert("failure." + std::string{core::to_text(code)} + ".at-station");  // where the command line's is no use
  }
  for (const std::string& key : english().keys()) {
    const bool coded =
        begins_with(key, "reason.") || begins_with(key, "note.") || begins_with(key, "failure.");
    CAPTURE(key);
    REQUIRE((!coded || known.count(key) == 1));
  }
}

// A label is printed before anyone can know what its load will come to.
TEST_CASE("No text of a label says sterile or passed") {
  int texts = 0;
  for (const std::string& key : english().keys()) {
    if (!begins_with(key, "label.")) continue;
    const std::string text = lower(english().text(key));
    CAPTURE(key);
    CHECK(text.find("sterile") == std::string::npos);
    CHECK(text.find("passed") == std::string::npos);
    ++texts;
  }
  REQUIRE(texts > 20);
}

TEST_CASE("No text promises what an indicator or a record cannot prove") {
  for (const std::string& key : english().keys()) {
    const std::string text = lower(english().text(key));
    CAPTURE(key);
    CHECK(text.find("is sterile") == std::string::npos);
    CHECK(text.find("are sterile") == std::string::npos);
    CHECK(text.find("guarantee") == std::string::npos);
  }
}

}  // namespace loadlight::tests
