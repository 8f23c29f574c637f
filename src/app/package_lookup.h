// From a read text or a typed id to the facts that package rules judge by.
#pragma once

#include <optional>

#include "loadlight/app/check_packages.h"
#include "loadlight/core/package_rules.h"

namespace loadlight::app {

// What a text or typed id names, before the record is asked.
struct Naming final {
  core::Seen seen = core::Seen::Nothing;
  std::optional<core::PackageId> id;
  std::optional<core::LabelFields> fields;  // as the label says
  std::optional<core::PackageLabelText> label;
};

Naming name_package(const CheckItem& item);

// What a failure of the store says of the record.
core::RecordState state_after(const core::Failure& failure);
core::Reason reason_after(const core::Failure& failure);  // RecordDamaged or RecordUnreachable

// Everything the rules and the reply need about one naming.
struct Lookup final {
  core::PackageFacts facts;
  std::optional<core::Package> package;
  std::optional<core::Load> load;
  std::optional<core::Contents> contents;
  int days_in_doubt = 0;  // before its process date, that its load may have been run
};

// Asks the record. A failure of the store leaves its fact absent and marks the record damaged or
// unreachable; it never throws and never fails.
Lookup look_up(const Ports& ports, const port::Unit& unit, const Naming& naming);

}  // namespace loadlight::app
