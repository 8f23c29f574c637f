#include "loadlight/app/audit_shelf.h"

#include "app/shelf_sweep.h"

namespace loadlight::app {
namespace {

using core::Result;

// Told by the record before the audit was cut off, and not read since.
void add_earlier_matches(const AuditLedger& ledger, SeenLabels& seen) {
  for (const SeenLabel& earlier : ledger.earlier()) {
    if (earlier.how() != core::SeenHow::Matched) continue;
    const auto id = core::PackageId::parse_exact(earlier.item.text);
    if (!id || seen.has(*id)) continue;
    SeenLabel& label = seen.of_match(*id);
    label = earlier;
    label.id = id;
  }
}

void judge_all(const Ports& ports, const port::Unit& unit, SeenLabels& seen) {
  for (SeenLabel& label : seen.all()) judge_label(ports, unit, label);
}

Result<std::string> contents_name(const port::Unit& unit, const std::string& code) {
  const auto contents = unit.contents().find(code);
  if (!contents) return contents.failure();
  return *contents ? (**contents).name : code;
}

// By location, the oldest first: at_location() lists them so.
Result<std::vector<NotSeenPackage>> not_seen(const port::Unit& unit, const std::vector<std::string>& places,
                                             const SeenLabels& seen) {
  std::vector<NotSeenPackage> missing;
  for (const std::string& place : places) {
    const auto packages = unit.packages().at_location(place);
    if (!packages) return packages.failure();
    for (const core::Package& package : *packages) {
      if (seen.has(package.id)) continue;
      const auto load = unit.loads().find(package.load);
      if (!load) return load.failure();
      if (!*load || !core::expected_location(package, **load)) continue;
      const auto name = contents_name(unit, package.contents);
      if (!name) return name.failure();
      missing.push_back({package, *name});
    }
  }
  return missing;
}

// What the record makes of the sweep, in one unit: all by one state of it.
Result<void> settle(const Ports& ports, const AuditEyes& eyes, const AuditLedger& ledger, ShelfSweep& sweep,
                    AuditReply& reply) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) {
    for (SeenLabel& label : sweep.seen().all()) judge_label_without(unit.failure(), label);
    return unit.failure();
  }
  judge_all(ports, **unit, sweep.seen());
  add_earlier_matches(ledger, sweep.seen());
  auto unreadable = sweep.lost().tell(**unit, eyes, reply.swept, sweep.seen());
  judge_all(ports, **unit, sweep.seen());
  if (!unreadable) return unreadable.failure();
  reply.unreadable = std::move(*unreadable);
  auto missing = not_seen(**unit, reply.swept, sweep.seen());
  if (!missing) return missing.failure();
  reply.not_seen = std::move(*missing);
  return {};
}

core::Details totals_of(const AuditReply& reply) {
  const auto count = [](auto number) { return std::to_string(number); };
  return {{"frames", count(reply.frames)},
          {"packages", count(reply.packages.size())},
          {"not_seen", count(reply.not_seen.size())},
          {"unreadable", count(reply.unreadable.size() + static_cast<std::size_t>(reply.unreadable_beyond))}};
}

void keep_trouble(const Result<void>& outcome, AuditReply& reply) {
  if (outcome || reply.trouble) return;
  reply.trouble = outcome.failure();
  reply.interrupted = true;
}

// Writes what the end of the sweep brought to light, and that it ended or how far it came.
void write_outcome(AuditLedger& ledger, ShelfSweep& sweep, AuditReply& reply) {
  std::vector<SeenLabel*> labels;
  for (SeenLabel& label : sweep.seen().all()) labels.push_back(&label);
  keep_trouble(ledger.write(labels, sweep.last_frame(), sweep.place()), reply);
  for (const SeenLabel* label : labels) reply.packages.push_back(label->audited());
  keep_trouble(reply.interrupted ? ledger.write_progress(sweep.last_frame(), sweep.place())
                                 : ledger.write_end(totals_of(reply)),
               reply);
}

}  // namespace

Result<AuditReply> audit_shelf(const Ports& ports, const AuditEyes& eyes, port::FrameSource& frames,
                               const AuditRequest& request) {
  auto ledger = AuditLedger::open(ports, request);
  if (!ledger) return ledger.failure();
  if (request.begun) request.begun(ledger->name());
  ShelfSweep sweep{ports, eyes, request, *ledger};
  const ShelfSweep::End end = sweep.run(frames);
  AuditReply reply;
  reply.audit = ledger->name();
  reply.location = request.location;
  reply.operator_code = request.operator_code;
  reply.swept = sweep.places();
  reply.begun_at = ledger->begun_at();
  reply.interrupted = end != ShelfSweep::End::Finished;
  reply.trouble = sweep.trouble();
  reply.frames = sweep.last_frame();
  reply.seconds = sweep.seconds();
  reply.other_symbols = sweep.other_symbols();
  keep_trouble(settle(ports, eyes, *ledger, sweep, reply), reply);
  reply.unreadable_beyond = sweep.lost().beyond();
  write_outcome(*ledger, sweep, reply);
  reply.pictures = sweep.pictures().take();
  reply.ended_at = ports.clock.now();
  return reply;
}

}  // namespace loadlight::app
