#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/office_tables.h"
#include "loadlight/exchange/csv.h"

namespace loadlight::cli {
namespace {

using app::OfficeTable;

int answer_rows(const Context& context, OfficeTable table, const core::Result<std::vector<app::Row>>& rows) {
  if (!rows) return context.fail(rows.failure());
  for (const app::Row& row : *rows) answer_row(context, table, row);
  return kDone;
}

int with_office(const Context& context, const std::function<int(const app::Ports&)>& work) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  return work((*office)->ports);
}

std::string option_for(std::string_view column) {
  std::string name = "--" + std::string{column};
  std::replace(name.begin(), name.end(), '_', '-');
  return name;
}

// One option a column; the code may also stand alone, without its option.
void add_add(CLI::App& table_verb, Context& context, OfficeTable table) {
  CLI::App* verb = add_verb(table_verb, context, "add");
  auto row = std::make_shared<app::Row>();
  row->reserve(app::text_of(table).columns.size() + 1);
  for (const app::Column& column : app::text_of(table).columns) {
    std::string& value = row->emplace_back(column.name, "").second;
    const std::string name = column.name == "code" ? "code,--code" : option_for(column.name);
    CLI::Option* option = verb->add_option(name, value, context.text("help.column." + std::string{column.name}));
    if (column.yes_or_no) option->expected(0, 1)->default_str("yes");
  }
  verb->callback([&context, table, row] {
    context.action = [&context, table, row] {
      return with_office(context, [&](const app::Ports& ports) {
        return answer_rows(context, table, app::add_entries(ports, context.operator_code, table, {*row}));
      });
    };
  });
}

void add_list(CLI::App& table_verb, Context& context, OfficeTable table) {
  CLI::App* verb = add_verb(table_verb, context, "list");
  verb->callback([&context, table] {
    context.action = [&context, table] {
      return with_office(context, [&](const app::Ports& ports) {
        return context.delivered(answer_rows(context, table, app::list_entries(ports, table)));
      });
    };
  });
}

void add_retire(CLI::App& table_verb, Context& context, OfficeTable table) {
  CLI::App* verb = add_verb(table_verb, context, "retire");
  auto code = std::make_shared<std::string>();
  verb->add_option("code,--code", *code, context.text("help.column.code"))->required();
  verb->callback([&context, table, code] {
    context.action = [&context, table, code] {
      return with_office(context, [&](const app::Ports& ports) {
        const auto row = app::retire_entry(ports, context.operator_code, table, *code);
        if (!row) return context.fail(row.failure());
        answer_row(context, table, *row);
        return kDone;
      });
    };
  });
}

void add_import(CLI::App& table_verb, Context& context, OfficeTable table) {
  CLI::App* verb = add_verb(table_verb, context, "import");
  auto file = std::make_shared<std::string>();
  add_option(*verb, context, "file", *file)->required();
  verb->callback([&context, table, file] {
    context.action = [&context, table, file] {
      return with_office(context, [&](const app::Ports& ports) {
        const auto text = context.world.files.read(*file, exchange::kLargestTable);
        if (!text) return context.fail(text.failure());
        return answer_rows(context, table,
                           app::import_entries(ports, context.operator_code, table, *text));
      });
    };
  });
}

}  // namespace

void add_tables(CLI::App& app, Context& context) {
  for (const auto table : {OfficeTable::Operators, OfficeTable::Sterilizers, OfficeTable::Contents,
                           OfficeTable::Kinds, OfficeTable::Locations, OfficeTable::Stocks,
                           OfficeTable::Programs, OfficeTable::Consumables}) {
    CLI::App* verb = add_verb(app, context, std::string{app::text_of(table).name});
    verb->require_subcommand(1);
    add_add(*verb, context, table);
    add_list(*verb, context, table);
    add_retire(*verb, context, table);
    add_import(*verb, context, table);
    if (table == OfficeTable::Operators) add_pin_verb(*verb, context);
    if (table == OfficeTable::Stocks) add_stock_verbs(*verb, context);
    if (table == OfficeTable::Sterilizers) add_service_verbs(*verb, context);
    if (table == OfficeTable::Programs) add_program_acceptance(*verb, context);
    if (table == OfficeTable::Consumables) add_lot_recall(*verb, context);
  }
}

}  // namespace loadlight::cli
