#include "app/seen_labels.h"

namespace loadlight::app {

core::SeenHow SeenLabel::how() const {
  return item.how == CheckItem::How::Symbol ? core::SeenHow::Read : core::SeenHow::Matched;
}

core::Verdict SeenLabel::verdict() const {
  core::Verdict verdict = reply.verdict;
  if (how() == core::SeenHow::Matched) verdict = verdict.with(core::Reason::LabelNotRead);
  if (old_label) verdict = verdict.with(core::Reason::OldLabelInView);
  const bool in_doubt = in_doubt_before || !in_doubt_beside.empty();
  if (in_doubt && !old_label) verdict = verdict.with(core::Reason::RecordDamaged);
  if (unwritten_for) verdict = verdict.with(*unwritten_for);
  return verdict;
}

AuditedPackage SeenLabel::audited() const {
  AuditedPackage package;
  package.reply = reply;
  package.reply.verdict = verdict();
  package.status = core::status_of(expected_at, seen_at);
  package.how = how();
  package.sightings = sightings;
  package.first_frame = first_frame;
  package.first_file = first_file;
  package.corners = corners;
  package.seen_at = seen_at;
  package.expected_at = expected_at;
  return package;
}

SeenLabel& SeenLabels::add(const std::string& key, CheckItem item) {
  by_key_.emplace(key, labels_.size());
  SeenLabel& label = labels_.emplace_back();
  label.id = name_package(item).id;
  label.item = std::move(item);
  return label;
}

SeenLabel& SeenLabels::of_text(const std::string& text) {
  if (const auto known = by_key_.find(text); known != by_key_.end()) return labels_[known->second];
  return add(text, {CheckItem::How::Symbol, text, std::nullopt});
}

SeenLabel& SeenLabels::of_match(const core::PackageId& id) {
  if (const auto known = by_key_.find(id.text()); known != by_key_.end()) return labels_[known->second];
  return add(id.text(), {CheckItem::How::Matched, id.text(), std::nullopt});
}

bool SeenLabels::has(const core::PackageId& id) const {
  for (const SeenLabel& label : labels_) {
    if (label.id == id && !label.reply.verdict.has(core::Reason::LabelNotAuthentic)) return true;
  }
  return false;
}

std::size_t SeenLabels::index_of(const SeenLabel& label) const {
  return by_key_.at(label.item.text);
}

namespace {

// Nowhere, where the label is not ours or the record does not say.
core::Result<std::optional<std::string>> expected_in(const port::Unit& unit, const SeenLabel& label) {
  if (!label.id || label.reply.verdict.has(core::Reason::LabelNotAuthentic)) {
    return std::optional<std::string>{};
  }
  const auto package = unit.packages().find(*label.id);
  if (!package) return package.failure();
  if (!*package) return std::optional<std::string>{};
  const auto load = unit.loads().find((**package).load);
  if (!load) return load.failure();
  return *load ? core::expected_location(**package, **load) : std::nullopt;
}

}  // namespace

void judge_label(const Ports& ports, const port::Unit& unit, SeenLabel& label) {
  label.reply = judge_item(ports, unit, label.item);
  label.expected_at.reset();
  const auto expected = expected_in(unit, label);
  if (expected) {
    label.expected_at = *expected;
  } else {
    label.reply.verdict = label.reply.verdict.with(reason_after(expected.failure()));
  }
}

void judge_label_without(const core::Failure& why, SeenLabel& label) {
  CheckRequest request;
  request.items = {label.item};
  label.reply = check_without_record(state_after(why), request).front();
  label.expected_at.reset();
}

}  // namespace loadlight::app
