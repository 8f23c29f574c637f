// What all ways of printing share: settling the stock and template, drawing the labels, writing the PDF.
#pragma once

#include <string>
#include <vector>

#include "loadlight/app/act.h"
#include "loadlight/app/print_labels.h"

namespace loadlight::app {

// Stock, template and options, settled from a Paper.
struct Setting final {
  core::LabelStock stock;
  label::LabelTemplate form;
  label::LayoutOptions options;
};

// Whether labels of this stock may go into a sterilizer.
bool goes_through_steam(const core::LabelStock& stock);

// `for_steam`: refuses stock that does not go through steam or is not known to.
core::Result<Setting> settle_paper(const port::Unit& unit, const PrintShop& shop, const Paper& paper,
                                   label::Subject subject, bool for_steam);

// A drawn PDF, not on disk yet.
struct Drawn final {
  std::string pdf;
  std::vector<label::PlacedLabel> labels;
  std::vector<label::LayoutWarning> warnings;
};
core::Result<Drawn> draw(const PrintShop& shop, const Setting& setting,
                         const std::vector<label::LabelContent>& labels, core::Instant made);

// What a package's label says. With `as_issued` it is drawn with the symbols the record keeps.
core::Result<label::LabelContent> content_of(const port::Unit& unit, const PrintShop& shop,
                                             const core::Office& office, const core::Package& package,
                                             bool as_issued);

// A package with a fresh id and its signed texts, not yet printed.
struct NewPackage final {
  core::LoadName load;
  core::CivilDate process_date;
  std::string operator_code;
  std::string contents;
  std::string kind;
};
core::Result<core::Package> make_package(const Ports& ports, const Act& act, const NewPackage& what,
                                         bool with_chart_copy);

// Draws new packages as one print run and fills in their symbols, run number and cells. Writes the run and
// the packages within the act together with `more`, puts the PDF in place, and commits.
struct NewRun final {
  core::EventKind kind;
  std::string subject;
  std::vector<core::Record> more;
  std::vector<std::pair<std::string, std::string>> details;
};
core::Result<PrintReply> print_new(const Act& act, const PrintShop& shop, const Setting& setting,
                                   const Paper& paper, std::vector<core::Package> packages, NewRun run);

// The paper first, so that what is in the record was printed. Should the record fail then, the paper goes too:
// nobody is to stick on labels that no record knows.
core::Result<void> put_out_and_commit(const Act& act, const PrintShop& shop, const std::string& out,
                                      const std::string& pdf);

// CodeUnknown or CodeRetired; KindTakesNoLabel for an unwrapped kind.
core::Result<core::Contents> usable_contents(const port::Unit& unit, const std::string& code);
core::Result<core::PackageKind> usable_kind(const port::Unit& unit, const std::string& code);

}  // namespace loadlight::app
