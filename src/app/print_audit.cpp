#include "loadlight/app/print_audit.h"

#include <algorithm>
#include <map>

#include "app/document_pages.h"
#include "app/record_reader.h"
#include "loadlight/exchange/csv.h"

namespace loadlight::app {
namespace {

using core::Result;

// Names by code.
using Names = std::map<std::string, std::string>;

template <class Entry>
Result<Names> names_in(const port::Table<Entry>& table) {
  const auto entries = table.all();
  if (!entries) return entries.failure();
  Names names;
  for (const Entry& entry : *entries) names.emplace(entry.code, entry.name);
  return names;
}

std::string name_of(const Names& names, const std::string& code) {
  const auto name = names.find(code);
  return name == names.end() || name->second.empty() ? code : name->second;
}

std::string day_text(const std::optional<core::CivilDate>& day) {
  return day ? day->iso() : std::string{};
}

std::string grouped(const std::string& id) {
  const auto package = core::PackageId::parse_exact(id);
  return package ? package->grouped() : id;
}

void word_verdict(const CheckReply& reply, const report::Words& words, report::AuditRow& row) {
  row.outcome = reply.verdict.outcome();
  for (const core::Reason reason : reply.verdict.reasons()) {
    const std::string code{core::to_text(reason)};
    row.reason_codes.push_back(code);
    row.reasons.push_back(words.text("reason." + code + ".text"));
    row.actions.push_back(words.text("reason." + code + ".action"));
  }
  const core::Details gaps{{"package", grouped(reply.older_one.value_or(""))},
                           {"date", day_text(reply.use_by)}};
  for (const core::Note note : reply.verdict.notes()) {
    row.notes.push_back(words.text("note." + std::string{core::to_text(note)} + ".text", gaps));
    row.near_use_by = row.near_use_by || note == core::Note::NearUseBy;
  }
}

report::AuditRow row_of(const AuditedPackage& package, const Names& places, const report::Words& words) {
  const CheckReply& reply = package.reply;
  report::AuditRow row;
  row.package = reply.package.value_or("");
  row.load = reply.load ? reply.load->text() : std::string{};
  row.contents = reply.contents_name.empty() ? reply.contents : reply.contents_name;
  row.process_date = day_text(reply.process_date);
  row.use_by = day_text(reply.use_by);
  word_verdict(reply, words, row);
  row.status = package.status;
  row.how = package.how;
  row.seen_at = name_of(places, package.seen_at);
  if (package.expected_at) row.expected_at = name_of(places, *package.expected_at);
  row.sightings = package.sightings;
  row.first_frame = package.first_frame;
  row.file = package.first_file;
  return row;
}

report::AuditMissing missing_of(const NotSeenPackage& missing, const Names& places) {
  const core::Package& package = missing.package;
  return {package.id.text(),        package.load.text(),
          missing.contents_name,    package.process_date.iso(),
          day_text(package.use_by), name_of(places, package.location.value_or(""))};
}

report::AuditPicture picture_of(const SweepPicture& picture) {
  report::AuditPicture on_paper{picture.frame, picture.file, picture.jpeg, picture.width, picture.height, {}};
  for (const SweepPicture::Mark& mark : picture.marks) {
    report::AuditPicture::Mark drawn;
    drawn.row = mark.package;
    for (std::size_t i = 0; i < drawn.corners.size(); ++i) {
      drawn.corners[i] = {mark.corners[i].x, mark.corners[i].y};
    }
    on_paper.marks.push_back(drawn);
  }
  return on_paper;
}

std::string trouble_text(const AuditReply& reply, const report::Words& words) {
  if (!reply.trouble) return "";
  return words.text("failure." + std::string{core::to_text(reply.trouble->code)} + ".text",
                    reply.trouble->details);
}

Result<report::AuditFacts> headed(const Ports& ports, const port::Unit& unit, const Names& places,
                                  const AuditReply& reply) {
  const auto office = unit.office();
  if (!office) return office.failure();
  const auto who = unit.operators().find(reply.operator_code);
  if (!who) return who.failure();
  report::AuditFacts facts;
  facts.office = office->name;
  facts.audit = reply.audit;
  facts.location = name_of(places, reply.location);
  facts.operator_name = *who && !(**who).name.empty() ? (**who).name : reply.operator_code;
  facts.begun = local_time_with_offset(ports.zone, reply.begun_at);
  facts.ended = local_time_with_offset(ports.zone, reply.ended_at);
  facts.interrupted = reply.interrupted;
  facts.frames = reply.frames;
  facts.seconds = reply.seconds;
  return facts;
}

}  // namespace

Result<report::AuditFacts> audit_on_paper(const Ports& ports, const report::Words& words,
                                          const AuditReply& reply) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto places = names_in((*unit)->locations());
  if (!places) return places.failure();
  auto facts = headed(ports, **unit, *places, reply);
  if (!facts) return facts;
  facts->trouble = trouble_text(reply, words);
  for (const auto& package : reply.packages) facts->rows.push_back(row_of(package, *places, words));
  for (const auto& missing : reply.not_seen) facts->missing.push_back(missing_of(missing, *places));
  for (const UnreadableSymbol& symbol : reply.unreadable) {
    facts->unreadable.push_back({symbol.frame, symbol.file, symbol.jpeg, symbol.width, symbol.height});
  }
  facts->unreadable_beyond = reply.unreadable_beyond;
  facts->other_symbols = reply.other_symbols;
  for (const SweepPicture& picture : reply.pictures) {
    if (!picture.jpeg.empty()) facts->pictures.push_back(picture_of(picture));
  }
  return facts;
}

Result<std::string> audit_pdf(const PageShop& shop, const report::AuditFacts& facts, core::Instant made) {
  DocumentPages pages{shop.paper, shop.gauge};
  if (const auto ok = pages.add(report::audit_document(facts, shop.words)); !ok) return ok.failure();
  const auto bound = pages.take([&](std::size_t page, std::size_t count) {
    return shop.words.text("record.page", {{"page", std::to_string(page)}, {"pages", std::to_string(count)}});
  });
  if (!bound) return bound.failure();
  return shop.press.print(*bound, made);
}

std::string audit_csv(const report::AuditFacts& facts) {
  std::string csv;
  for (const std::vector<std::string>& cells : report::audit_table(facts)) {
    exchange::CsvRow row;
    for (const std::string& cell : cells) row.add(cell);
    csv += row.line();
  }
  return csv;
}

}  // namespace loadlight::app
