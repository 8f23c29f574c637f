// Use cases: a sterilizer's service log, and its way out of service and back.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/ports.h"

namespace loadlight::app {

struct ServiceRequest final {
  std::string operator_code;
  std::string sterilizer;
  core::ServiceKind kind = core::ServiceKind::Maintenance;
  std::string note;            // who did what; needed
  bool counter_reset = false;  // its cycle counter began again
  std::optional<core::CivilDate> next_due;
};
// Installed, maintenance, repair or moved: BadValue for the two kinds that are moves of their own below.
core::Result<core::ServiceEntry> record_service(const Ports& ports, const ServiceRequest& request);

struct OutOfServiceRequest final {
  std::string operator_code;
  std::string sterilizer;
  std::string why;
};
core::Result<core::Sterilizer> take_out_of_service(const Ports& ports, const OutOfServiceRequest& request);

struct ReturnRequest final {
  std::string operator_code;  // a lead
  std::string sterilizer;
  std::string note;
};
// ReturnNotAllowed lists what the procedure of each open incident that holds it still asks.
core::Result<core::Sterilizer> return_to_service(const Ports& ports, const ReturnRequest& request);

// By number.
core::Result<std::vector<core::ServiceEntry>> service_log(const Ports& ports, const std::string& sterilizer);

}  // namespace loadlight::app
