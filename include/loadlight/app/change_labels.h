// Use cases: print a label once more, put another in its place, or void it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/print_labels.h"

namespace loadlight::app {

// The same ids, payloads and symbols again, on paper as they were first laid out. All packages of a print
// run in their first cells give the first PDF byte for byte.
struct ReprintRequest final {
  std::string operator_code;
  std::vector<std::string> packages;  // ids or label texts, all of one print run
  std::vector<int> cells;             // more of that print run, by cell: a jammed strip
  bool whole_run = false;             // every package of that print run that is not void
  std::optional<int> first_cell;      // on fresh paper, one after the other from here; none: in their places
  std::string out;
};
// PackageWrongState for one that is void, opened or withdrawn; BadValue for packages of several runs.
core::Result<PrintReply> reprint_labels(const Ports& ports, const PrintShop& shop,
                                        const ReprintRequest& request);

// A new label with a new id in place of one whose words must change; the old id is void, in the same
// transaction. Only before its load has started.
struct ReplaceRequest final {
  std::string operator_code;
  std::string package;
  std::optional<core::LoadName> load;  // none: as before, here and below
  std::optional<std::string> contents;
  std::optional<std::string> kind;
  std::optional<core::CivilDate> process_date;  // none: today
  Paper paper;
};
core::Result<PrintReply> replace_label(const Ports& ports, const PrintShop& shop,
                                       const ReplaceRequest& request);

struct VoidRequest final {
  std::string operator_code;
  std::vector<std::string> packages;
  std::string why;
};
core::Result<std::vector<core::Package>> void_labels(const Ports& ports, const VoidRequest& request);

// Tags and cards that are not packages' labels: nothing but a PDF comes of them.
struct ShelfTagRequest final {
  std::string location;
  Paper paper;
};
core::Result<std::vector<label::LayoutWarning>> print_shelf_tag(const Ports& ports, const PrintShop& shop,
                                                                const ShelfTagRequest& request);

// For a tray of unwrapped items.
struct TrayCardRequest final {
  std::string operator_code;
  core::LoadName load;
  std::string contents;
  int count = 1;
  Paper paper;
};
core::Result<std::vector<label::LayoutWarning>> print_tray_card(const Ports& ports, const PrintShop& shop,
                                                                const TrayCardRequest& request);

}  // namespace loadlight::app
