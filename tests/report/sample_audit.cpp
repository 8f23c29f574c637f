#include "report/sample_audit.h"

#include <cstdint>

#include "loadlight/core/dates.h"
#include "loadlight/core/names.h"

namespace loadlight::tests {
namespace {

using core::AuditStatus;
using core::Outcome;

constexpr int kRows = 40;
constexpr const char* kContents[] = {"Examination set", "Hygiene set", "Surgical extraction set",
                                     "Endodontic set, rotary files and hand files, long name"};

std::string id_of(int number) {
  for (int salt = 0;; ++salt) {
    const std::uint8_t bytes[6] = {static_cast<std::uint8_t>(number * 53),
                                   static_cast<std::uint8_t>(number),
                                   static_cast<std::uint8_t>(salt),
                                   41,
                                   7,
                                   201};
    if (auto id = core::PackageId::from_random(bytes)) return id->text();
  }
}

std::string day_text(int month, int day) {
  return core::CivilDate::from(2026, static_cast<unsigned>(month), static_cast<unsigned>(day))->iso();
}

void speak_against(report::AuditRow& row, Outcome outcome, const char* code, const char* text,
                   const char* action) {
  row.outcome = outcome;
  row.reason_codes.emplace_back(code);
  row.reasons.emplace_back(text);
  row.actions.emplace_back(action);
}

report::AuditRow clear_row(int number) {
  report::AuditRow row;
  row.package = id_of(number);
  row.load = "S1-" + std::to_string(180 + number / 4);
  row.contents = kContents[number % 4];
  row.process_date = day_text(5 + number / 8, 3 + number % 25);
  if (number % 9 != 0)
    row.use_by = number < 4 ? day_text(12, 1 + number) : "2027-05-" + std::to_string(10 + number % 20);
  row.outcome = Outcome::Clear;
  row.near_use_by = number > 0 && number < 4;
  row.status = AuditStatus::Present;
  row.seen_at = number < 26 ? "Operatory 1 drawer" : "Operatory 2 drawer";
  row.expected_at = row.seen_at;
  row.sightings = 20 + number;
  row.first_frame = 14 * number + 1;
  return row;
}

void trouble_row(report::AuditRow& row, int number) {
  if (number == 7 || number == 30) {
    speak_against(row, Outcome::DoNotUse, "past-use-by", "It is past its use-by day.",
                  "Do not use. Reprocess: clean, pack and label anew.");
    row.use_by = "2026-11-19";
  }
  if (number == 11 || number == 12) {
    speak_against(row, Outcome::DoNotUse, "load-recalled", "Its load has been recalled.",
                  "Do not use. Withdraw the package and reprocess it.");
    row.status = AuditStatus::Unexpected;
    row.expected_at.clear();
  }
  if (number == 12) {
    speak_against(row, Outcome::DoNotUse, "past-use-by", "It is past its use-by day.",
                  "Do not use. Reprocess: clean, pack and label anew.");
  }
  if (number == 18) {
    speak_against(row, Outcome::Hold, "load-not-released",
                  "Its load has ended but nobody has decided on it yet.",
                  "Have the load's readings and indicators recorded and the load released first.");
    row.status = AuditStatus::Unexpected;
    row.expected_at.clear();
  }
  if (number == 22 || number == 33) {
    speak_against(row, Outcome::Hold, "label-not-read",
                  "The label is too damaged to be read; the record tells which package it is likely to be.",
                  "Do not open it on this. Compare the id by eye and type it, or reprint the label.");
    row.how = core::SeenHow::Matched;
  }
  if (number == 25 || number == 35) {
    row.status = AuditStatus::Misplaced;
    row.expected_at = "Clean room cabinet 1";
  }
}

report::AuditMissing missing(int number, const char* location) {
  return {id_of(100 + number),      "S1-" + std::to_string(170 + number),         kContents[number % 4],
          day_text(9, 20 - number), number == 2 ? "" : day_text(12, 28 - number), location};
}

}  // namespace

report::AuditFacts sample_audit() {
  report::AuditFacts facts;
  facts.office = "Harbour Row Dental (demo)";
  facts.audit = "OP1-7";
  facts.location = "Operatory 1 drawer";
  facts.operator_name = "Ada Berg (AB)";
  facts.begun = "2026-11-25 14:03 +01:00";
  facts.ended = "2026-11-25 14:05 +01:00";
  facts.frames = 612;
  facts.seconds = 24.48;
  for (int i = 0; i < kRows; ++i) {
    facts.rows.push_back(clear_row(i));
    trouble_row(facts.rows.back(), i);
  }
  for (int i = 0; i < 5; ++i) {
    facts.missing.push_back(missing(i, i < 3 ? "Operatory 1 drawer" : "Operatory 2 drawer"));
  }
  facts.unreadable = {{88, "", "", 0, 0}, {214, "", "", 0, 0}, {506, "", "", 0, 0}};
  return facts;
}

}  // namespace loadlight::tests
