// Use case: may these packages be opened? Reads the facts, judges, writes the check into the ledger and
// answers. There is always an answer: what cannot be looked up holds.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/cut_off.h"
#include "loadlight/app/ports.h"
#include "loadlight/core/package_rules.h"
#include "loadlight/core/payload.h"
#include "loadlight/core/verdict.h"
#include "loadlight/label/label_area.h"

namespace loadlight::app {

// One thing to check: the text of a symbol, an id typed by hand, or the id that a damaged symbol was told by.
struct CheckItem final {
  enum class How { Symbol, TypedId, Matched };
  How how = How::Symbol;
  std::string text;
  std::optional<label::Quad> corners;  // of the symbol, in a picture that all items of a request share
};

struct CheckReply final {
  core::Verdict verdict = core::Verdict::against({});
  std::string read;  // the text that was checked, as it was read or typed
  std::optional<std::string> package;  // its id, as far as the text or the record tells
  // From the record where it has the package; else from an authentic label; else nothing.
  std::optional<core::LoadName> load;
  std::string contents;       // code
  std::string contents_name;
  std::optional<core::CivilDate> process_date;
  std::optional<core::CivilDate> use_by;
  std::optional<std::string> location;
  std::optional<std::string> older_one;  // package id, with Note::OlderOneElsewhere
  std::optional<label::Quad> corners;
  std::optional<FromCopy> from_copy{};  // the record could not be reached
};

struct CheckRequest final {
  std::vector<CheckItem> items;  // none: one answer, not a package label
  std::string operator_code;     // may be empty: checking needs nobody's name
  // For items of one picture: templates tell how far a label reaches around its symbol. May be empty.
  std::function<core::Result<label::LabelTemplate>(std::string_view name)> find_template;
};

// Answers every item, in order; by this station's own copy of the record where that may stand in for it.
std::vector<CheckReply> check_packages(const Ports& ports, const CheckRequest& request);

// The same without an office: the record could not be opened because it is damaged or out of reach.
std::vector<CheckReply> check_without_record(core::RecordState why, const CheckRequest& request);

// The facts and the verdict for one item within a unit, without writing anything: what `open` judges by.
CheckReply judge_item(const Ports& ports, const port::Unit& unit, const CheckItem& item);
// The same of the record or else of its copy.
CheckReply judge_item(const Ports& ports, const Reading& reading, const CheckItem& item);

}  // namespace loadlight::app
