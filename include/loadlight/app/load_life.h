// Use cases along a load's life: open it, fill it, run it, and what its sterilizer showed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/ports.h"
#include "loadlight/core/release_rules.h"

namespace loadlight::app {

struct OpenLoadRequest final {
  std::string operator_code;
  std::string sterilizer;
  std::string program;
  core::LoadPurpose purpose = core::LoadPurpose::Process;
  std::optional<int> number;  // none: the lowest number reserved by labels, else the next one
  std::optional<int> incident;  // of a retest: the incident it is for; none: the only open one
};
// SterilizerOutOfService (tests and retests may run all the same), ProgramUnknown, ProgramNotAllowed,
// ProgramNotAccepted, LoadNumberOutOfSequence, LoadWrongState; for a retest IncidentUnknown, IncidentEnded.
core::Result<core::Load> open_load(const Ports& ports, const OpenLoadRequest& request);

struct LoadPackagesRequest final {
  std::string operator_code;
  core::LoadName load;
  std::vector<std::string> packages;          // ids or label texts
  std::vector<core::LooseItems> loose_items;  // unwrapped items, which carry no label; only when adding
};
// All or none. LabelsNameAnother lists every package whose label names another load, sterilizer or date,
// ProgramNotAllowed every wrapped or hollow one in a type N program.
core::Result<core::Load> add_to_load(const Ports& ports, const LoadPackagesRequest& request);
core::Result<core::Load> remove_from_load(const Ports& ports, const LoadPackagesRequest& request);

struct LoadRequest final {
  std::string operator_code;
  core::LoadName load;
};
struct StartLoadReply final {
  core::Load load;
  core::DailyTest daily_test = core::DailyTest::NotAsked;  // Missing: no passed test of today
};
// The process date becomes today; labels that state another day are refused (LabelsNameAnother), and so is
// every load with packages while the sterilizer's newest test stands failed (SterilizerTestFailed).
core::Result<StartLoadReply> start_load(const Ports& ports, const LoadRequest& request);

struct FinishLoadRequest final {
  std::string operator_code;
  core::LoadName load;
  std::string aborted_why;      // filled: it did not run to its end
  std::optional<int> counter;   // the sterilizer's own cycle counter
};
struct FinishLoadReply final {
  core::Load load;
  int counter_gap = 0;  // cycles between the last counter on record and this one; 0 if none is missing
};
// CounterRepeated when another load of this sterilizer carries that counter or a higher one.
core::Result<FinishLoadReply> finish_load(const Ports& ports, const FinishLoadRequest& request);

struct ReadingsRequest final {
  std::string operator_code;
  core::LoadName load;
  core::Readings readings;
  std::string why;  // a reason, needed to replace readings that differ
};
// LoadWrongState before the end or after the decision; ResultDiffers without a reason.
core::Result<core::Load> record_readings(const Ports& ports, const ReadingsRequest& request);

struct LeakRequest final {
  std::string operator_code;
  core::LoadName load;
  core::LeakTest leak;
  std::string why;  // a reason, needed to replace a result that differs
};
// Of a load that was opened as a leak test; as for readings.
core::Result<core::Load> record_leak(const Ports& ports, const LeakRequest& request);

}  // namespace loadlight::app
