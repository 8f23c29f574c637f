#include "loadlight/app/office_tables.h"

#include <map>
#include <set>

#include "app/office_columns.h"

namespace loadlight::app {
namespace {

using core::EventKind;
using core::Failure;
using core::FailureCode;
using core::Result;

// How each kind of entry is found, and which events add and retire it.
template <class Entry>
struct Place;
#define PLACE(Entry, reader, added, retired)                                            \
  template <>                                                                           \
  struct Place<core::Entry> {                                                           \
    static const port::Table<core::Entry>& in(const port::Unit& unit) { return unit.reader(); } \
    static constexpr EventKind kAdded = EventKind::added;                               \
    static constexpr EventKind kRetired = EventKind::retired;                           \
  };
PLACE(Operator, operators, OperatorAdded, OperatorRetired)
PLACE(Sterilizer, sterilizers, SterilizerAdded, SterilizerRetired)
PLACE(Contents, contents, ContentsAdded, ContentsRetired)
PLACE(PackageKind, kinds, KindAdded, KindRetired)
PLACE(Location, locations, LocationAdded, LocationRetired)
PLACE(LabelStock, stocks, StockAdded, StockRetired)
PLACE(OfficeProgram, programs, ProgramAdded, ProgramRetired)
PLACE(Consumable, consumables, ConsumableAdded, ConsumableRetired)
#undef PLACE

const std::string& key_of(const core::Consumable& lot) { return lot.lot; }
template <class Entry>
const std::string& key_of(const Entry& entry) {
  return entry.code;
}

// What an entry gets from whoever enters it, and what it must find in place.
Result<void> complete(const Act& act, core::OfficeProgram& program) {
  const auto sterilizer = act.unit->sterilizers().find(program.sterilizer);
  if (!sterilizer) return sterilizer.failure();
  if (!*sterilizer) {
    return Failure{FailureCode::CodeUnknown, {{"table", "sterilizer"}, {"code", program.sterilizer}}, {}};
  }
  program.entered_by = act.who.code;
  program.entered_at = act.now;
  return {};
}
Result<void> complete(const Act&, core::LabelStock& stock) {
  const bool rated = stock.rating != core::SteamRating::Unrated;
  if (!rated || stock.method != core::PrintMethod::DirectThermal) return {};
  return Failure{FailureCode::StockDirectThermal, {{"stock", stock.code}}, {}};
}
template <class Entry>
Result<void> complete(const Act&, Entry&) {
  return {};
}

// Calls `work` with the type of the table's entries.
template <class Work>
auto with_entry(OfficeTable table, Work work) {
  switch (table) {
    case OfficeTable::Operators:
      return work(core::Operator{});
    case OfficeTable::Sterilizers:
      return work(core::Sterilizer{});
    case OfficeTable::Contents:
      return work(core::Contents{});
    case OfficeTable::Kinds:
      return work(core::PackageKind{});
    case OfficeTable::Locations:
      return work(core::Location{});
    case OfficeTable::Stocks:
      return work(core::LabelStock{});
    case OfficeTable::Programs:
      return work(core::OfficeProgram{});
    case OfficeTable::Consumables:
      break;
  }
  return work(core::Consumable{});
}

core::Sentence sentence_for(const RowProblem& problem, std::size_t line) {
  return {"row-problem." + std::string{problem.code},
          {{"line", std::to_string(line)},
           {"column", std::string{problem.column}},
           {"given", problem.given}}};
}

// One typed row fails with its own code; rows of a file fail together, each with its line.
class RowErrors final {
 public:
  explicit RowErrors(const std::vector<std::size_t>& lines) : lines_(lines) {}

  void add(std::size_t row, const RowProblem& problem) {
    first_ = first_ ? first_ : problem;
    items_.push_back(sentence_for(problem, lines_.empty() ? 0 : lines_[row]));
  }
  bool any() const { return !items_.empty(); }
  Failure failure(const TableText& text) const {
    if (!lines_.empty()) return {FailureCode::BadCsv, {{"count", std::to_string(items_.size())}}, items_};
    core::Details details{{"table", std::string{text.name}},
                          {"code", first_->given},
                          {"field", std::string{first_->column}},
                          {"given", first_->given}};
    if (first_->code == "taken") return {FailureCode::CodeTaken, details, {}};
    if (first_->column == "code") return {FailureCode::BadCode, details, {}};
    return {FailureCode::BadValue, details, {}};
  }

 private:
  const std::vector<std::size_t>& lines_;
  std::optional<RowProblem> first_;
  std::vector<core::Sentence> items_;
};

// In an office without operators the first one added acts, and leads; otherwise nobody could begin.
Result<Act> begin_table_act(const Ports& ports, std::string_view operator_code,
                            std::vector<core::Operator>* newcomers) {
  if (!newcomers) return begin_act(ports, operator_code);
  auto unit = ports.store.begin(port::Access::Write);
  if (!unit) return unit.failure();
  const auto operators = (*unit)->operators().all();
  if (!operators) return operators.failure();
  if (!operators->empty() || newcomers->empty()) {
    unit->reset();
    return begin_act(ports, operator_code);
  }
  const auto office = (*unit)->office();
  if (!office) return office.failure();
  core::Operator& first = newcomers->front();
  first.role = core::Role::Lead;
  const core::Instant now = ports.clock.now();
  return Act{std::move(*unit), *office, first, now, ports.zone.local_date(now), false};
}

// Who leads is for a lead to say; everything else in the tables is anybody's who works here.
Result<void> may_change(const core::Operator& who, const core::Operator& entry) {
  if (entry.role == core::Role::Lead) return require_lead(who);
  return {};
}
template <class Entry>
Result<void> may_change(const core::Operator&, const Entry&) {
  return {};
}

template <class Entry>
Result<std::vector<Row>> add_typed(const Ports& ports, std::string_view operator_code, OfficeTable table,
                                   const std::vector<Row>& rows, const std::vector<std::size_t>& lines) {
  const core::CivilDate today = ports.zone.local_date(ports.clock.now());
  RowErrors errors{lines};
  std::vector<Entry> entries;
  std::set<std::string> codes;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    std::vector<RowProblem> problems;
    entries.push_back(parse_row<Entry>(rows[i], today, problems));
    if (problems.empty() && !codes.insert(key_of(entries.back())).second) {
      problems.push_back({"taken", "code", key_of(entries.back())});
    }
    for (const RowProblem& problem : problems) errors.add(i, problem);
  }
  std::vector<core::Operator>* newcomers = nullptr;
  if constexpr (std::is_same_v<Entry, core::Operator>) newcomers = &entries;
  if (errors.any()) return errors.failure(text_of(table));
  auto act = begin_table_act(ports, operator_code, newcomers);
  if (!act) return act.failure();
  std::vector<core::Record> records;
  std::vector<Row> added;
  std::string subject;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const auto there = Place<Entry>::in(*act->unit).find(key_of(entries[i]));
    if (!there) return there.failure();
    if (*there) errors.add(i, {"taken", "code", key_of(entries[i])});
    if (const auto ok = may_change(act->who, entries[i]); !ok) return ok.failure();
    if (const auto ok = complete(*act, entries[i]); !ok) return ok.failure();
    records.emplace_back(entries[i]);
    added.push_back(to_row(entries[i]));
    subject += (subject.empty() ? "" : " ") + key_of(entries[i]);
  }
  if (errors.any()) return errors.failure(text_of(table));
  if (entries.empty()) return added;
  const auto written = act->write(Place<Entry>::kAdded, subject, std::move(records));
  if (!written) return written.failure();
  if (const auto ok = act->unit->commit(); !ok) return ok.failure();
  return added;
}

void retire(core::Operator& who, core::CivilDate today) { who.last_day = today; }
template <class Entry>
void retire(Entry& entry, core::CivilDate today) {
  entry.retired_on = today;
}
bool is_retired(const core::Operator& who) { return who.last_day.has_value(); }
template <class Entry>
bool is_retired(const Entry& entry) {
  return entry.retired_on.has_value();
}

// Somebody must be left who may let others in.
Result<void> may_go(const Act& act, const core::Operator& leaving) {
  const auto operators = act.unit->operators().all();
  if (!operators) return operators.failure();
  const core::CivilDate tomorrow = act.today.plus_days(1);
  for (const core::Operator& who : *operators) {
    const bool stays = who.code != leaving.code && who.current_on(tomorrow) && !who.last_day;
    if (stays && who.role == core::Role::Lead) return {};
  }
  return Failure{FailureCode::LastLead, {{"operator", leaving.code}}, {}};
}
template <class Entry>
Result<void> may_go(const Act&, const Entry&) {
  return {};
}

template <class Entry>
Result<Row> retire_typed(const Ports& ports, std::string_view operator_code, OfficeTable table,
                         std::string_view code) {
  auto act = begin_act(ports, operator_code);
  if (!act) return act.failure();
  const auto entry = Place<Entry>::in(*act->unit).find(code);
  if (!entry) return entry.failure();
  const core::Details details{{"table", std::string{text_of(table).name}}, {"code", std::string{code}}};
  if (!*entry) return Failure{FailureCode::CodeUnknown, details, {}};
  if (is_retired(**entry)) return Failure{FailureCode::CodeRetired, details, {}};
  if (const auto ok = may_change(act->who, **entry); !ok) return ok.failure();
  if (const auto ok = may_go(*act, **entry); !ok) return ok.failure();
  Entry retired = **entry;
  retire(retired, act->today);
  const auto written = act->write(Place<Entry>::kRetired, key_of(retired), {retired});
  if (!written) return written.failure();
  if (const auto ok = act->unit->commit(); !ok) return ok.failure();
  return to_row(retired);
}

std::vector<Row> rows_of(const exchange::CsvTable& table, std::vector<std::size_t>& lines) {
  std::vector<Row> rows;
  for (const auto& line : table.rows) {
    Row row;
    for (std::size_t i = 0; i < table.header.size(); ++i) row.emplace_back(table.header[i], line.cells[i]);
    rows.push_back(std::move(row));
    lines.push_back(line.line);
  }
  return rows;
}

}  // namespace

Result<std::vector<Row>> add_entries(const Ports& ports, std::string_view operator_code, OfficeTable table,
                                     const std::vector<Row>& rows, const std::vector<std::size_t>& lines) {
  return with_entry(table, [&](auto entry) {
    return add_typed<decltype(entry)>(ports, operator_code, table, rows, lines);
  });
}

Result<std::vector<Row>> import_entries(const Ports& ports, std::string_view operator_code,
                                        OfficeTable table, std::string_view csv) {
  std::vector<std::string_view> required;
  std::vector<std::string_view> optional;
  for (const Column& column : text_of(table).columns) {
    (column.required ? required : optional).push_back(column.name);
  }
  const auto parsed = exchange::parse_csv(csv, {required, optional});
  if (!parsed) return parsed.failure();
  std::vector<std::size_t> lines;
  const std::vector<Row> rows = rows_of(*parsed, lines);
  return add_entries(ports, operator_code, table, rows, lines);
}

Result<std::vector<Row>> list_entries(const Ports& ports, OfficeTable table) {
  return with_entry(table, [&](auto entry) -> Result<std::vector<Row>> {
    const auto unit = ports.store.begin(port::Access::Read);
    if (!unit) return unit.failure();
    const auto all = Place<decltype(entry)>::in(**unit).all();
    if (!all) return all.failure();
    std::vector<Row> rows;
    for (const auto& each : *all) rows.push_back(to_row(each));
    return rows;
  });
}

Result<Row> retire_entry(const Ports& ports, std::string_view operator_code, OfficeTable table,
                         std::string_view code) {
  return with_entry(table, [&](auto entry) {
    return retire_typed<decltype(entry)>(ports, operator_code, table, code);
  });
}

Result<Row> rate_stock(const Ports& ports, const RateStockRequest& request) {
  if (request.note.empty()) return Failure{FailureCode::ReasonMissing, {{"field", "note"}}, {}};
  auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  const auto stock = act->unit->stocks().find(request.code);
  if (!stock) return stock.failure();
  if (!*stock) return Failure{FailureCode::CodeUnknown, {{"table", "stock"}, {"code", request.code}}, {}};
  if ((**stock).method == core::PrintMethod::DirectThermal) {
    return Failure{FailureCode::StockDirectThermal, {{"stock", request.code}}, {}};
  }
  core::LabelStock rated = **stock;
  rated.rating = request.rating;
  rated.rating_note = request.note;
  const auto written = act->write(core::EventKind::StockRated, rated.code, {rated});
  if (!written) return written.failure();
  if (const auto ok = act->unit->commit(); !ok) return ok.failure();
  return to_row(rated);
}

}  // namespace loadlight::app
