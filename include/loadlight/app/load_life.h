// Use cases along a load's life: open it, fill it, run it, and what its sterilizer showed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/ports.h"

namespace loadlight::app {

struct OpenLoadRequest final {
  std::string operator_code;
  std::string sterilizer;
  std::string program;
  core::LoadPurpose purpose = core::LoadPurpose::Process;
  std::optional<int> number;  // none: the lowest number reserved by labels, else the next one
};
// SterilizerOutOfService, ProgramUnknown, ProgramNotAllowed, LoadNumberOutOfSequence, LoadWrongState.
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
// The process date becomes today; labels that state another day are refused (LabelsNameAnother).
core::Result<core::Load> start_load(const Ports& ports, const LoadRequest& request);

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

}  // namespace loadlight::app
