// Use cases: what indicators showed about a load.
#pragma once

#include <optional>
#include <string>

#include "loadlight/app/ports.h"

namespace loadlight::app {

struct IndicatorRequest final {
  std::string operator_code;
  core::LoadName load;
  core::IndicatorPlace place = core::IndicatorPlace::External;
  int type = 1;  // ISO 11140-1: 1 to 6, both included
  std::string lot;
  core::CivilDate expires = *core::CivilDate::from(1900, 1, 1);
  bool passed = false;
  std::optional<std::string> package;  // id or label text: an exception on this package alone
};
struct IndicatorReply final {
  core::Load load;
  std::optional<core::Package> withdrawn;  // the package whose own indicator failed
};
// Read on unloading: LoadWrongState before the load's end and after its decision.
core::Result<IndicatorReply> record_indicator(const Ports& ports, const IndicatorRequest& request);

struct BiologicalRequest final {
  std::string operator_code;
  core::LoadName load;
  std::string lot;
  core::BiologicalTest test = core::BiologicalTest::Lost;
  core::BiologicalControl control = core::BiologicalControl::NotReported;
  std::string control_lot;
};
struct BiologicalReply final {
  core::Load load;
  std::optional<core::Incident> incident;  // opened because the test organism grew
};
// At any time after the load's end. Growth takes the sterilizer out of service and opens an incident on
// every load after the last valid negative one, with no upper end.
core::Result<BiologicalReply> record_biological(const Ports& ports, const BiologicalRequest& request);

}  // namespace loadlight::app
