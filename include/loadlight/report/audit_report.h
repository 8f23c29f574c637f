// A shelf audit for people: a document for paper, one self-contained page for a browser, and a table.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "loadlight/core/audit.h"
#include "loadlight/core/reasons.h"
#include "loadlight/report/document.h"
#include "loadlight/report/words.h"

namespace loadlight::report {

// A package that was seen, in finished texts where codes would not do.
struct AuditRow final {
  std::string package;        // id; empty for a symbol that names none
  std::string load;
  std::string contents;       // name
  std::string process_date;
  std::string use_by;         // empty: event-related
  core::Outcome outcome = core::Outcome::Hold;
  std::vector<std::string> reasons;       // worded, worst first
  std::vector<std::string> reason_codes;
  std::vector<std::string> actions;       // worded, as many as reasons
  std::vector<std::string> notes;         // worded
  bool near_use_by = false;
  core::AuditStatus status = core::AuditStatus::Unexpected;
  core::SeenHow how = core::SeenHow::Read;
  std::string seen_at;      // location name
  std::string expected_at;  // location name; empty: nowhere
  int sightings = 0;
  int first_frame = 0;
  std::string file;
};

struct AuditMissing final {
  std::string package;
  std::string load;
  std::string contents;
  std::string process_date;
  std::string use_by;
  std::string location;  // name
};

struct AuditUnreadable final {
  int frame = 0;
  std::string file;
  std::string jpeg;
  int width = 0;   // pixels of the JPEG
  int height = 0;
};

// A piece of the sweep, with an outline for each label seen in it.
struct AuditPicture final {
  int frame = 0;
  std::string file;
  std::string jpeg;
  int width = 0;
  int height = 0;
  struct Mark final {
    std::array<std::pair<double, double>, 4> corners{};  // pixels of the JPEG, clockwise
    std::size_t row = 0;                                 // index in AuditFacts::rows; its number is one more
  };
  std::vector<Mark> marks;
};

struct AuditFacts final {
  std::string office;
  std::string audit;
  std::string location;  // name
  std::string operator_name;
  std::string begun;  // date and time, worded
  std::string ended;
  std::string trouble;  // worded; empty: none
  bool interrupted = false;
  int frames = 0;
  double seconds = 0;
  std::vector<AuditRow> rows;
  std::vector<AuditMissing> missing;
  std::vector<AuditUnreadable> unreadable;
  int unreadable_beyond = 0;  // more of them than are kept
  int other_symbols = 0;      // read, and no label of a package
  std::vector<AuditPicture> pictures;
};

// What to pull off the shelf: do not use, or misplaced, or unexpected; by location, worst first. What to use
// first: near its use-by day, oldest first.
Document audit_document(const AuditFacts& facts, const Words& words);

// HTML with style and pictures inside; no script, nothing fetched.
std::string audit_page(const AuditFacts& facts, const Words& words);

// The table's rows: one for each package seen, each not seen and each unreadable symbol, under headings.
std::vector<std::vector<std::string>> audit_table(const AuditFacts& facts);

}  // namespace loadlight::report
