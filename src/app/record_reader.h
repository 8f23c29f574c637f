// Reads what the record says of loads, as printed records need it.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "loadlight/app/ports.h"
#include "loadlight/report/load_record.h"

namespace loadlight::app {

// "2026-11-25 14:03 +01:00".
std::string local_time_with_offset(const port::Zone& zone, core::Instant t);

// Names are looked up once for all loads of a unit.
class RecordReader final {
 public:
  // Reads the office, its people and incidents. `ports` and `unit` outlive the reader.
  static core::Result<RecordReader> of(const Ports& ports, const port::Unit& unit);

  core::Result<report::LoadRecordFacts> facts_of_load(const core::Load& load);
  const core::Office& office() const { return office_; }
  const report::RecordNames& names() const { return names_; }
  core::Instant now() const { return now_; }

 private:
  RecordReader(const Ports& ports, const port::Unit& unit) : ports_(&ports), unit_(&unit) {}

  core::Result<void> read_office();
  core::Result<void> read_acts(report::LoadRecordFacts& facts) const;
  core::Result<void> read_log(report::LoadRecordFacts& facts) const;
  core::Result<void> read_contents(report::LoadRecordFacts& facts);
  core::Result<std::string> contents_name(const std::string& code);
  core::Result<std::string> sterilizer_name(const std::string& code) const;

  const Ports* ports_;
  const port::Unit* unit_;
  core::Instant now_{};
  core::Office office_;
  report::RecordNames names_;
  std::vector<core::Incident> incidents_;
  std::map<std::string, std::string> contents_;  // names by codes
};

}  // namespace loadlight::app
