#include "loadlight/app/add_key.h"

#include "loadlight/app/act.h"

namespace loadlight::app {
namespace {

using core::EventKind;
using core::Result;

std::string subject_of(int key) {
  return "key-" + std::to_string(key);
}

// What the record tells of a key. The first one came with the office.
Result<std::optional<port::PastEvent>> event_of(const port::Unit& unit, int key) {
  if (key <= 1) {
    const auto office = unit.office();
    if (!office) return office.failure();
    return std::optional{port::PastEvent{office->made_at, {}, {}}};
  }
  auto events = unit.events_about(subject_of(key), EventKind::KeyAdded);
  if (!events) return events.failure();
  if (events->empty()) return std::optional<port::PastEvent>{};
  return std::optional{std::move(events->front())};
}

}  // namespace

Result<AddedKey> add_key(const World& world, const std::string& office_folder, const Ports& ports,
                         std::string_view operator_code) {
  auto act = begin_act(ports, operator_code);
  if (!act) return act.failure();
  if (const auto lead = require_lead(act->who); !lead) return lead.failure();
  const int newest = ports.keyring.current_key();
  const auto told = event_of(*act->unit, newest);
  if (!told) return told.failure();
  const bool is_told = told->has_value();
  const AddedKey key{is_told ? newest + 1 : newest, !is_told};
  const auto written = act->write(EventKind::KeyAdded, subject_of(key.number), {});
  if (!written) return written.failure();
  if (!key.found) {
    if (const auto added = world.add_key(office_folder); !added) return added.failure();
  }
  if (const auto done = act->unit->commit(); !done) return done.failure();
  return key;
}

Result<std::vector<KeyLine>> list_keys(const Ports& ports) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const int newest = ports.keyring.current_key();
  std::vector<KeyLine> lines;
  for (int key = 1; key <= newest; ++key) {
    const auto event = event_of(**unit, key);
    if (!event) return event.failure();
    KeyLine line{key, key == newest, {}, {}};
    if (*event) {
      line.at = (**event).at;
      line.operator_code = (**event).operator_code;
    }
    lines.push_back(std::move(line));
  }
  return lines;
}

}  // namespace loadlight::app
