// Use cases at the chair after a check: open a package, say what its internal indicator showed, withdraw
// it; and put packages on a shelf.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/check_packages.h"
#include "loadlight/app/ports.h"
#include "loadlight/core/verdict.h"

namespace loadlight::app {

// `package` is an id or a label's text, here and below.
struct OpenRequest final {
  std::string operator_code;
  std::string package;
  std::optional<std::string> visit;  // opaque reference: is_visit_reference()
  bool dry = false;                  // what the eyes saw
  bool intact = false;
  core::IndicatorLook external_indicator = core::IndicatorLook::Unchanged;
  std::string already_opened_why;  // filled: it was opened before this is recorded
};

enum class OpenOutcome {
  Opened,
  Withdrawn,  // the eyes said no
  Refused,    // the verdict was not Clear
};

struct OpenReply final {
  OpenOutcome outcome = OpenOutcome::Refused;
  CheckReply check;  // of the package as this leaves it, for one withdrawn; else as it was found
};

// Judges again. Any "no" of the eyes withdraws the package instead of opening it; a verdict other than
// Clear refuses, unless the opening is a fact already and only recorded late.
core::Result<OpenReply> open_package(const Ports& ports, const OpenRequest& request);

struct InternalIndicatorRequest final {
  std::string operator_code;
  std::string package;
  core::IndicatorLook look = core::IndicatorLook::Unchanged;
};
struct InternalIndicatorReply final {
  core::Package package;
  std::optional<core::Incident> incident;  // opened because the indicator did not change
};

// After opening. PackageWrongState for a package that is not open; ResultDiffers when another look is on
// record already.
core::Result<InternalIndicatorReply> record_internal_indicator(const Ports& ports,
                                                               const InternalIndicatorRequest& request);

struct WithdrawRequest final {
  std::string operator_code;
  std::string package;
  core::WithdrawReason why = core::WithdrawReason::Other;
};
core::Result<core::Package> withdraw_package(const Ports& ports, const WithdrawRequest& request);

struct ShelveRequest final {
  std::string operator_code;
  std::vector<std::string> packages;
  std::string location;
};
core::Result<std::vector<core::Package>> shelve_packages(const Ports& ports, const ShelveRequest& request);

}  // namespace loadlight::app
