#include "packages.h"

#include "row_batches.h"
#include "schema.h"

namespace loadlight::store {

using core::LoadName;
using core::Package;
using core::PackageId;
using core::SymbolForm;

template <>
core::CivilDate blank() {
  return *core::CivilDate::from(1900, 1, 1);
}

template <>
PackageId blank() {
  return *PackageId::parse_exact("000000000V");
}

template <>
Package blank() {
  return {.id = blank<PackageId>(), .load = {}, .process_date = blank<core::CivilDate>()};
}

template <>
const RecordTable<Package>& table_of() {
  static const RecordTable<Package> table{
      "packages",
      "package",
      {column<&Package::id>("id").key(),
       column<&Package::load, &LoadName::sterilizer>("load_sterilizer"),
       column<&Package::load, &LoadName::number>("load_number"),
       column<&Package::process_date>("process_date"),
       column<&Package::use_by>("use_by"),
       column<&Package::operator_code>("operator_code").refers_to("operators"),
       column<&Package::contents>("contents").refers_to("contents"),
       column<&Package::kind>("kind").refers_to("kinds"),
       column<&Package::payload>("payload"),
       column<&Package::symbol, &SymbolForm::version>("symbol_version").between(1, 40),
       column<&Package::symbol, &SymbolForm::level>("symbol_level"),
       column<&Package::symbol, &SymbolForm::mask>("symbol_mask").between(0, 7),
       column<&Package::chart_payload>("chart_payload"),
       column<&Package::chart_symbol, &SymbolForm::version>("chart_version").between(1, 40),
       column<&Package::chart_symbol, &SymbolForm::level>("chart_level"),
       column<&Package::chart_symbol, &SymbolForm::mask>("chart_mask").between(0, 7),
       column<&Package::print_run>("print_run").refers_to("print_runs"),
       column<&Package::cell>("cell"),
       column<&Package::printed_at>("printed_at"),
       column<&Package::state>("state"),
       column<&Package::recalled>("recalled"),
       column<&Package::replaced_by>("replaced_by").refers_to("packages"),
       column<&Package::location>("location").refers_to("locations"),
       column<&Package::withdrawn_because>("withdrawn_because"),
       column<&Package::opened_at>("opened_at"),
       column<&Package::visit>("visit"),
       column<&Package::internal_indicator>("internal_indicator")},
      {load_reference()},
      {{"packages_by_load", "load_sterilizer, load_number, print_run, cell"},
       {"packages_by_print_run", "print_run, cell"},
       // Holds all that oldest_ready() looks at while it walks.
       {"packages_by_age",
        "contents, kind, state, process_date, id, recalled, use_by, load_sterilizer, load_number"},
       {"packages_by_use_by", "state, use_by, id, recalled, load_sterilizer, load_number"},
       {"packages_by_location", "state, location, process_date, id"},
       {"packages_by_visit", "visit"}}};
  return table;
}

core::Result<std::optional<Package>> Packages::find(const PackageId& id) const {
  return table_of<Package>().select_first(session_, "WHERE id = $1", {id.text()});
}

core::Result<std::vector<Package>> Packages::of_load(const LoadName& load) const {
  return table_of<Package>().select(
      session_, "WHERE load_sterilizer = $1 AND load_number = $2 ORDER BY print_run, cell",
      {load.sterilizer, load.number});
}

core::Result<std::vector<Package>> Packages::of_print_run(int number) const {
  return table_of<Package>().select(session_, "WHERE print_run = $1 ORDER BY cell", {number});
}

// Walks packages_by_age from the oldest and stops at the first that is ready, so it passes only those that
// somebody should have withdrawn.
core::Result<std::optional<Package>> Packages::oldest_ready(std::string_view contents, std::string_view kind,
                                                            core::CivilDate today) const {
  return table_of<Package>().select_first(
      session_,
      "WHERE id = (SELECT p.id FROM packages p"
      " WHERE p.contents = $1 AND p.kind = $2 AND p.state = 'loaded' AND p.recalled = 0"
      " AND (p.use_by IS NULL OR p.use_by >= $3)"
      " AND EXISTS (SELECT 1 FROM loads l WHERE l.sterilizer = p.load_sterilizer"
      " AND l.number = p.load_number AND l.state = 'released')"
      " ORDER BY p.process_date, p.id LIMIT 1)",
      {std::string{contents}, std::string{kind}, encode(today)});
}

// Load by load, so that memory holds the packages of one.
core::Result<void> Packages::of_runs(const port::RunRange& runs,
                                     const std::function<void(const Package&)>& visit) const {
  const auto numbers = session_.rows(
      "SELECT number FROM loads WHERE sterilizer = $1 AND run BETWEEN $2 AND $3"
      " AND (program = $4 OR $4 IS NULL) ORDER BY run",
      {runs.sterilizer, runs.first, runs.last, encode_optional(runs.program)});
  if (!numbers) return numbers.failure();
  for (const SqlRow& row : *numbers) {
    LoadName load{runs.sterilizer, 0};
    if (!decode(row.front(), load.number)) return session_.damaged("loads: number");
    const auto packages = of_load(load);
    if (!packages) return packages.failure();
    for (const Package& package : *packages) visit(package);
  }
  return {};
}

core::Result<std::vector<Package>> Packages::use_by_until(core::CivilDate last, int limit) const {
  return table_of<Package>().select(
      session_,
      "WHERE state = 'loaded' AND use_by <= $1 AND recalled = 0"
      " AND EXISTS (SELECT 1 FROM loads l WHERE l.sterilizer = load_sterilizer"
      " AND l.number = load_number AND l.state = 'released') ORDER BY use_by, id LIMIT $2",
      {encode(last), limit});
}

core::Result<std::vector<Package>> Packages::at_location(std::string_view code) const {
  return table_of<Package>().select(
      session_, "WHERE state = 'loaded' AND location = $1 ORDER BY process_date, id", {std::string{code}});
}

core::Result<std::vector<Package>> Packages::replaced_by(const PackageId& id) const {
  return table_of<Package>().select(session_, "WHERE state = 'void' AND replaced_by = $1 ORDER BY id",
                                    {id.text()});
}

core::Result<std::vector<Package>> Packages::search(const port::PackageSearch& search,
                                                    port::SearchPage page) const {
  // A reference is found by its index; for the rest all packages are walked.
  constexpr std::string_view kVisit = "WHERE visit = $2 AND", kAny = "WHERE CAST($2 AS TEXT) IS NULL AND";
  constexpr std::string_view kFits =
      " (instr(id, $1) > 0 OR $1 IS NULL) AND (contents = $3 OR $3 IS NULL)"
      " AND (operator_code = $4 OR $4 IS NULL) AND (process_date >= $5 OR $5 IS NULL)"
      " AND (process_date <= $6 OR $6 IS NULL) ORDER BY process_date DESC, id LIMIT $7 OFFSET $8";
  return table_of<Package>().select(
      session_, std::string{search.visit ? kVisit : kAny}.append(kFits),
      {encode_optional(search.id_part), encode_optional(search.visit), encode_optional(search.contents),
       encode_optional(search.operator_code), encode_optional(search.first), encode_optional(search.last),
       page.limit, page.skip});
}

core::Result<void> Packages::each(const std::function<void(const Package&)>& visit) const {
  return each_record<Package>(session_, [&](const Package& package) {
    visit(package);
    return true;
  });
}

}  // namespace loadlight::store
