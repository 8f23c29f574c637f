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
  std::optional<double> stated_celsius;  // what a type 6 indicator states on itself
  std::optional<double> stated_minutes;
  std::string why;  // needed when the same indicator was read differently before
};
struct IndicatorReply final {
  core::Load load;
  std::optional<core::Package> withdrawn;   // the package whose own indicator failed
  std::optional<core::Incident> incident;  // opened, because it lay inside: its neighbours may be no better
};
// Read on unloading: LoadWrongState before the load's end and after its decision. IndicatorUnfit for a type
// that supports nothing at this place, IndicatorStatesAnother for one that states another program,
// ResultDiffers without a reason. Where the lot is in the table of consumables, its expiry there counts if
// it is earlier.
core::Result<IndicatorReply> record_indicator(const Ports& ports, const IndicatorRequest& request);

struct PlaceBiologicalRequest final {
  std::string operator_code;
  core::LoadName load;
  std::string lot;
  std::string control_lot;
  core::BiologicalReader reader = core::BiologicalReader::Office;
  std::string service;       // needed for a mail-in service
  std::optional<int> hours;  // until its result is due, from the load's start; none: 24, or 168 by mail
};
// A biological indicator with its control goes into a load, until the load is decided.
core::Result<core::BiologicalRun> place_biological(const Ports& ports, const PlaceBiologicalRequest& request);

struct MoveBiologicalRequest final {
  std::string operator_code;
  int run = 0;             // BiologicalRun::number
  bool incubated = false;  // put into the incubator now
  bool sent = false;       // given to the post today
};
// IndicatorUnknown when there is no such run.
core::Result<core::BiologicalRun> move_biological(const Ports& ports, const MoveBiologicalRequest& request);

struct BiologicalRequest final {
  std::string operator_code;
  core::LoadName load;
  std::string lot;
  core::BiologicalTest test = core::BiologicalTest::Lost;
  core::BiologicalControl control = core::BiologicalControl::NotReported;
  std::string control_lot;
  std::optional<core::CivilDate> received_on;  // by a mail-in service
  std::optional<core::CivilDate> reported_on;
  std::string report_file;
  std::string why;  // needed when another result, or another lot, is on record
};
struct BiologicalReply final {
  core::Load load;
  std::optional<core::Incident> incident;  // opened, or for a retest grown, because the test organism grew
  bool was_not_placed = false;             // nobody had recorded that an indicator was in this load
};
// At any time after the load's end. Growth takes the sterilizer out of service and opens an incident on
// every load of the suspect range (core/suspect_range.h); of a retest it bears on the incident that the
// retest is for. The same result again changes nothing; another one stands beside it and needs a reason.
core::Result<BiologicalReply> record_biological(const Ports& ports, const BiologicalRequest& request);

}  // namespace loadlight::app
