// Use case: what can be packed now, what the office packs most first.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/ports.h"

namespace loadlight::app {

struct ContentsChoice final {
  core::Contents contents;
  int lately = 0;          // how many of the latest print runs were of these contents
  std::string usual_kind;  // of the newest of them; empty if there is none
};

// A load whose labels may be printed.
struct LoadChoice final {
  core::LoadName name;
  std::optional<core::LoadState> state;  // none: the next number, not given out yet
  int labelled = 0;                      // packages whose label names it and is not void
};

struct SterilizerChoice final {
  core::Sterilizer sterilizer;
  // Packed after their program first, then those being filled, reserved ones, and the next number last.
  std::vector<LoadChoice> loads;
};

struct PackChoices final {
  std::vector<ContentsChoice> contents;  // most packed lately first, then by name
  std::vector<core::PackageKind> kinds;  // that take a label
  std::vector<SterilizerChoice> sterilizers;  // in service; the one last printed for first
  std::vector<core::LabelStock> stocks;       // in use, that go through steam
};

// The latest print runs that favourites are taken from.
inline constexpr int kRunsLookedAt = 40;

core::Result<PackChoices> pack_choices(const Ports& ports);

// The last place that was printed on with this template, in its newest print run: where its sheet is used up to.
// Nothing when it is none of the latest.
core::Result<std::optional<int>> last_cell_of(const Ports& ports, const std::string& template_name);

// What an old label says of the package it was on, from the record: what its successor is packed as.
struct OldLabel final {
  std::string contents;
  std::string kind;
};
// `reference` is an id or a label's text: BadPackageId, LabelNotAuthentic, PackageUnknown; CodeRetired when its
// contents or kind are not packed any more.
core::Result<OldLabel> packed_before(const Ports& ports, const std::string& reference);

}  // namespace loadlight::app
