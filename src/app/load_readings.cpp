#include "app/load_moves.h"
#include "loadlight/app/load_life.h"

namespace loadlight::app {

using core::EventKind;
using core::Failure;
using core::FailureCode;
using core::Result;

Result<core::Load> record_leak(const Ports& ports, const LeakRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  auto load = find_load(*act->unit, request.load);
  if (!load) return load;
  if (load->purpose != core::LoadPurpose::Leak || !core::awaits_decision(load->state)) {
    return wrong_state(*load);
  }
  if (load->leak && *load->leak != request.leak && request.why.empty()) {
    return Failure{FailureCode::ResultDiffers, {{"subject", load->name.text()}}, {}};
  }
  load->leak = request.leak;
  return write_load(*act, EventKind::LeakTested, *load, {}, {{"why", request.why}});
}

Result<core::Load> record_readings(const Ports& ports, const ReadingsRequest& request) {
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  auto load = find_load(*act->unit, request.load);
  if (!load) return load;
  if (!core::awaits_decision(load->state)) {
    return wrong_state(*load);
  }
  if (load->readings && *load->readings != request.readings && request.why.empty()) {
    return Failure{FailureCode::ResultDiffers, {{"subject", load->name.text()}}, {}};
  }
  load->readings = request.readings;
  return write_load(*act, EventKind::ReadingsRecorded, *load, {}, {{"why", request.why}});
}

}  // namespace loadlight::app
