#include "loadlight/app/office_tables.h"

#include <algorithm>

#include "app/office_at_work.h"
#include "loadlight/app/accept_clock.h"
#include "loadlight/app/make_office.h"

namespace loadlight::tests {
namespace {

using app::OfficeTable;

const OfficeTable kTables[] = {OfficeTable::Operators, OfficeTable::Sterilizers, OfficeTable::Contents,
                               OfficeTable::Kinds,     OfficeTable::Locations,   OfficeTable::Stocks,
                               OfficeTable::Programs,  OfficeTable::Consumables};

core::Result<std::vector<app::Row>> import(OfficeAtWork& office, OfficeTable table, std::string_view csv) {
  return app::import_entries(office.ports(), "AB", table, csv);
}

std::string value(const app::Row& row, std::string_view column) {
  for (const auto& [name, text] : row) {
    if (name == column) return text;
  }
  return "";
}

std::size_t count_of(OfficeAtWork& office, OfficeTable table) {
  return must(app::list_entries(office.ports(), table)).size();
}

// The lines that a failure's items name.
std::vector<std::string> lines_of(const core::Failure& failure) {
  std::vector<std::string> lines;
  for (const auto& item : failure.items) {
    REQUIRE(english().has(item.key));
    for (const auto& [name, text] : item.details) {
      if (name == "line") lines.push_back(text);
    }
  }
  return lines;
}

}  // namespace

TEST_CASE("A file with wrong rows adds none and names every wrong line") {
  OfficeAtWork office;
  const auto refused = import(office, OfficeTable::Contents,
                              "code,name,implant\n"
                              "GOOD,Good set,no\n"
                              "TOOLONGCODE,Some set,no\n"
                              "PROPHY,,yes\n"
                              "SURG,Surgery,perhaps\n"
                              "GOOD,Twice,no\n");
  REQUIRE(code_of(refused) == "bad-csv");
  REQUIRE(lines_of(refused.failure()) == std::vector<std::string>{"3", "4", "5", "6"});
  REQUIRE(count_of(office, OfficeTable::Contents) == 3);
}

TEST_CASE("A file with a code that is taken adds none of its rows") {
  OfficeAtWork office;
  const auto refused =
      import(office, OfficeTable::Locations, "code,name\nSHELF2,Second\nSHELF1,First again\n");
  REQUIRE(code_of(refused) == "bad-csv");
  REQUIRE(lines_of(refused.failure()) == std::vector<std::string>{"3"});
  REQUIRE(count_of(office, OfficeTable::Locations) == 1);
}

TEST_CASE("A file without its columns or with strange ones is refused") {
  OfficeAtWork office;
  REQUIRE(code_of(import(office, OfficeTable::Locations, "code\nSHELF2\n")) == "bad-csv");
  REQUIRE(code_of(import(office, OfficeTable::Locations, "code,name,colour\nA,B,C\n")) == "bad-csv");
  REQUIRE(code_of(import(office, OfficeTable::Locations, "")) == "bad-csv");
  REQUIRE(code_of(import(office, OfficeTable::Locations, "code,name\n")) == "ok");
  REQUIRE(count_of(office, OfficeTable::Locations) == 1);
}

TEST_CASE("A row that is typed in fails with its own code") {
  OfficeAtWork office;
  const auto add = [&](app::Row row) {
    return code_of(app::add_entries(office.ports(), "AB", OfficeTable::Locations, {std::move(row)}));
  };
  REQUIRE(add({{"code", "SHELF1"}, {"name", "Again"}}) == "code-taken");
  REQUIRE(add({{"code", "shelf"}, {"name", "Lower case"}}) == "bad-code");
  REQUIRE(add({{"code", "SHELF2"}, {"name", "two\nlines"}}) == "bad-value");
  REQUIRE(add({{"code", "SHELF2"}, {"name", "Second"}}) == "ok");
}

TEST_CASE("Every table is listed in the words of its columns, and its list can be imported again") {
  OfficeAtWork office;
  must(import(office, OfficeTable::Programs,
              "code,name,sterilizer,load_kind,celsius,exposure_minutes,drying_minutes,document,page\n"
              "PW,Wrapped,S1,wrapped,134,3.5,20,Instructions,12\n"));
  must(import(office, OfficeTable::Consumables, "lot,kind,name,expires\nL-1,chemical,Strips,2027-06-30\n"));
  for (OfficeTable table : kTables) {
    const auto& text = app::text_of(table);
    REQUIRE(english().has("table." + std::string{text.name}));
    app::Row row = must(app::list_entries(office.ports(), table)).front();
    for (const app::Column& column : text.columns) {
      CAPTURE(text.name, column.name);
      REQUIRE(
          std::any_of(row.begin(), row.end(), [&](const auto& cell) { return cell.first == column.name; }));
    }
    for (auto& [name, cell] : row) {
      if (name == "code" || name == "lot") cell = "X9";
    }
    std::erase_if(row, [&](const auto& cell) {
      return std::none_of(text.columns.begin(), text.columns.end(),
                          [&](const app::Column& column) { return column.name == cell.first; });
    });
    REQUIRE(code_of(app::add_entries(office.ports(), "AB", table, {row})) == "ok");
  }
}

TEST_CASE("What is retired is listed but not offered, and is not retired twice") {
  OfficeAtWork office;
  must(app::retire_entry(office.ports(), "AB", OfficeTable::Contents, "EXAM"));
  REQUIRE(code_of(app::retire_entry(office.ports(), "AB", OfficeTable::Contents, "EXAM")) == "code-retired");
  REQUIRE(code_of(app::retire_entry(office.ports(), "AB", OfficeTable::Contents, "NONE")) == "code-unknown");
  REQUIRE(count_of(office, OfficeTable::Contents) == 3);
  REQUIRE(code_of(app::print_labels(office.ports(), office.shop(), office.print_request({"S1", 1}))) ==
          "code-retired");
  REQUIRE(code_of(import(office, OfficeTable::Contents, "code,name\nEXAM,Exam again\n")) == "bad-csv");
}

TEST_CASE("An operator who leaves may still act today and not tomorrow") {
  OfficeAtWork office;
  const core::Package package = office.released_package();
  must(app::retire_entry(office.ports(), "AB", OfficeTable::Operators, "CD"));
  const auto withdraw = [&] {
    return code_of(app::withdraw_package(office.ports(), {"CD", package.id.text(), {}}));
  };
  office.clock.turn_days(1);
  REQUIRE(withdraw() == "operator-not-current");
  office.clock.turn_days(-1);
  REQUIRE(withdraw() == "ok");
}

TEST_CASE("The first operator leads and acts for himself, and nobody after him without a name") {
  OfficeAtWork office;
  const auto rows = must(app::list_entries(office.ports(), OfficeTable::Operators));
  REQUIRE(value(rows[0], "role") == "lead");
  store::MemoryStore empty;
  const app::Ports ports{empty, office.clock, office.zone, office.keyring};
  must(app::make_office(ports, {"New", "UTC", "us-cdc-2003", "en", std::nullopt}));
  must(app::import_entries(ports, "", OfficeTable::Operators, "code,name,role\nEF,First,staff\n"));
  REQUIRE(value(must(app::list_entries(ports, OfficeTable::Operators))[0], "role") == "lead");
  REQUIRE(code_of(app::import_entries(ports, "", OfficeTable::Operators, "code,name\nGH,Second\n")) ==
          "operator-missing");
}

TEST_CASE("Only a lead makes or retires a lead") {
  OfficeAtWork office;
  const auto by = [&](std::string_view who, const char* code) {
    return app::add_entries(office.ports(), who, OfficeTable::Operators,
                            {{{"code", code}, {"name", "N"}, {"role", "lead"}}});
  };
  REQUIRE(code_of(by("CD", "NL")) == "lead-required");
  REQUIRE(code_of(app::import_entries(office.ports(), "CD", OfficeTable::Operators,
                                      "code,name,role\nS1,S,staff\nNL,N,lead\n")) == "lead-required");
  REQUIRE(code_of(app::retire_entry(office.ports(), "CD", OfficeTable::Operators, "AB")) == "lead-required");
  REQUIRE(count_of(office, OfficeTable::Operators) == 2);
  must(by("AB", "NL"));
  must(app::retire_entry(office.ports(), "NL", OfficeTable::Operators, "AB"));
}

TEST_CASE("The last lead does not retire, for nobody could take his place") {
  OfficeAtWork office;
  const auto retire = [&](const char* code) {
    return code_of(app::retire_entry(office.ports(), "AB", OfficeTable::Operators, code));
  };
  REQUIRE(retire("AB") == "last-lead");
  must(app::add_entries(office.ports(), "AB", OfficeTable::Operators,
                        {{{"code", "NL"}, {"name", "N"}, {"role", "lead"}}}));
  REQUIRE(retire("AB") == "ok");
}

TEST_CASE("A stock that claims a rating says what it rests on") {
  OfficeAtWork office;
  const auto refused =
      import(office, OfficeTable::Stocks,
             "code,name,method,dpi,rating,rating_note\nR2,Roll,thermal-transfer,300,trial,\n");
  REQUIRE(code_of(refused) == "bad-csv");
  REQUIRE(refused.failure().items.front().key == "row-problem.rating-needs-note");
}

TEST_CASE("An office is made only with a profile that exists and a shelf life within its bounds") {
  OfficeAtWork office;
  store::MemoryStore empty;
  const app::Ports ports{empty, office.clock, office.zone, office.keyring};
  const auto make = [&](const char* profile, std::optional<int> days) {
    return code_of(app::make_office(ports, {"New", "UTC", profile, "en", days}));
  };
  REQUIRE(make("nowhere", 180) == "bad-value");
  REQUIRE(make("uk", 0) == "bad-value");
  REQUIRE(make("uk", 3651) == "bad-value");
  REQUIRE(make("uk", 3650) == "ok");
}

TEST_CASE("Whichever call of the store fails, a table changes whole or not at all") {
  const auto nothing = [](OfficeAtWork&) { return 0; };
  require_all_or_nothing(nothing, [](OfficeAtWork& office, int) {
    return import(office, OfficeTable::Locations, "code,name\nA1,One\nA2,Two\n").ok();
  });
  require_all_or_nothing(nothing, [](OfficeAtWork& office, int) {
    return app::retire_entry(office.ports(), "AB", OfficeTable::Contents, "EXAM").ok();
  });
  require_all_or_nothing(nothing, [](OfficeAtWork& office, int) {
    return app::rate_stock(office.ports(), {"AB", "NEW", core::SteamRating::Trial, "10 sheets"}).ok();
  });
  require_all_or_nothing(nothing, [](OfficeAtWork& office, int) {
    return app::accept_clock(office.ports(), {"AB", "battery"}).ok();
  });
}

}  // namespace loadlight::tests
