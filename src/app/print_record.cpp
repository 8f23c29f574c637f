#include "loadlight/app/print_record.h"

#include "app/document_pages.h"
#include "app/exchange_tables.h"
#include "app/load_moves.h"
#include "app/record_reader.h"
#include "loadlight/report/period_record.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

Result<std::string> pdf_of(DocumentPages pages, const PageShop& shop, core::Instant made) {
  const auto number = [&](std::size_t page, std::size_t count) {
    return shop.words.text("record.page", {{"page", std::to_string(page)}, {"pages", std::to_string(count)}});
  };
  const auto numbered = pages.take(number);
  if (!numbered) return numbered.failure();
  return shop.press.print(*numbered, made);
}

// Names alone: the loads of years are read one after another.
Result<std::vector<core::LoadName>> loads_of(const port::Unit& unit, const PeriodRequest& request) {
  if (request.last < request.first) {
    return Failure{FailureCode::BadValue, {{"field", "to"}, {"given", request.last.iso()}}, {}};
  }
  if (!request.sterilizer.empty()) {
    const auto sterilizer = unit.sterilizers().find(request.sterilizer);
    if (!sterilizer) return sterilizer.failure();
    if (!*sterilizer) {
      return Failure{FailureCode::CodeUnknown, {{"table", "sterilizer"}, {"code", request.sterilizer}}, {}};
    }
  }
  std::vector<core::LoadName> names;
  const auto done = unit.loads().of_days(request.first, request.last, [&](const core::Load& load) {
    if (request.sterilizer.empty() || load.name.sterilizer == request.sterilizer) names.push_back(load.name);
  });
  if (!done) return done.failure();
  return names;
}

// Hands on the facts of every load of the period, in order.
template <class Visit>
Result<void> each_record(const port::Unit& unit, RecordReader& reader, const PeriodRequest& request,
                         Visit visit) {
  const auto names = loads_of(unit, request);
  if (!names) return names.failure();
  for (const core::LoadName& name : *names) {
    const auto load = find_load(unit, name);
    if (!load) return load.failure();
    const auto facts = reader.facts_of_load(*load);
    if (!facts) return facts.failure();
    if (Result<void> done = visit(*facts); !done) return done;
  }
  return {};
}

}  // namespace

Result<std::string> load_record_pdf(const Ports& ports, const PageShop& shop, const core::LoadName& name) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto load = find_load(**unit, name);
  if (!load) return load.failure();
  auto reader = RecordReader::of(ports, **unit);
  if (!reader) return reader.failure();
  const auto facts = reader->facts_of_load(*load);
  if (!facts) return facts.failure();
  DocumentPages pages{shop.paper, shop.gauge};
  if (auto ok = pages.add(report::load_record(*facts, reader->names(), shop.words)); !ok) return ok.failure();
  return pdf_of(std::move(pages), shop, reader->now());
}

// The summary is laid out last, when every load was read, and put first.
Result<std::string> period_record_pdf(const Ports& ports, const PageShop& shop,
                                      const PeriodRequest& request) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  auto reader = RecordReader::of(ports, **unit);
  if (!reader) return reader.failure();
  report::PeriodFacts period{reader->office().name, request.first, request.last, {}, reader->now()};
  DocumentPages pages{shop.paper, shop.gauge};
  const auto done =
      each_record(**unit, *reader, request, [&](const report::LoadRecordFacts& facts) -> Result<void> {
        period.lines.push_back(report::period_line(facts, reader->names(), shop.words));
        return pages.add(report::load_record(facts, reader->names(), shop.words));
      });
  if (!done) return done.failure();
  DocumentPages summary = pages.beside();
  const auto ok = summary.add(report::period_summary(period, reader->names(), shop.words));
  if (!ok) return ok.failure();
  pages.put_first(std::move(summary));
  return pdf_of(std::move(pages), shop, reader->now());
}

Result<std::string> period_record_csv(const Ports& ports, const PeriodRequest& request) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  auto reader = RecordReader::of(ports, **unit);
  if (!reader) return reader.failure();
  std::string csv = period_csv_header();
  const auto done =
      each_record(**unit, *reader, request, [&](const report::LoadRecordFacts& facts) -> Result<void> {
        csv += period_csv_line(facts);
        return {};
      });
  if (!done) return done.failure();
  return csv;
}

}  // namespace loadlight::app
