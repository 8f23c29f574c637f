#include <iostream>

#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/exchange/csv.h"

namespace loadlight::cli {
namespace {

struct VerifyOptions final {};

int verify(const Context& context, const VerifyOptions&) {
  const auto leaves = context.world.open_office(context.office_folder);
  if (!leaves) {
    context.fail(leaves.failure());
    return kFailed;
  }
  const auto alterations = leaves->store->verify();
  if (!alterations) {
    context.fail(alterations.failure());
    return kFailed;
  }
  for (const port::Alteration& found : *alterations) {
    context.answer({{"where", found.where}, {"what", found.what}},
                   context.text("line.alteration",
                                {{"where", found.where}, {"what", context.text("alteration." + found.what)}}));
  }
  if (!alterations->empty()) return context.delivered(kRefused);
  context.tell(context.text("ledger.whole"));
  return kDone;
}

struct ExportOptions final {
  std::string format = "jsonl";
};

Json entry_json(const core::LedgerEntry& entry) {
  const Json body = Json::parse(entry.body, nullptr, false);
  return {{"sequence", entry.sequence},
          {"at", core::to_text(entry.at)},
          {"at_ms", core::to_milliseconds(entry.at)},
          {"operator", entry.operator_code},
          {"kind", entry.kind},
          {"subject", entry.subject},
          {"body", body.is_discarded() ? Json(entry.body) : body},
          {"previous", entry.previous},
          {"hash", entry.hash}};
}

void write_csv_header() {
  exchange::CsvRow row;
  for (const char* name : {"sequence", "at", "operator", "kind", "subject", "body", "previous", "hash"}) {
    row.add(name);
  }
  std::cout << row.line();
}

void write_csv(const core::LedgerEntry& entry) {
  exchange::CsvRow row;
  row.add(static_cast<long long>(entry.sequence)).add(core::to_text(entry.at)).add(entry.operator_code);
  row.add(entry.kind).add(entry.subject).add(entry.body).add(entry.previous).add(entry.hash);
  std::cout << row.line();
}

int export_entries(const Context& context, const ExportOptions& options) {
  const bool csv = options.format == "csv" && !context.json;
  if (options.format != "csv" && options.format != "jsonl") {
    return context.fail(bad_value("format", options.format, "csv, jsonl"));
  }
  const auto leaves = context.world.open_office(context.office_folder);
  if (!leaves) return context.fail(leaves.failure());
  if (csv) write_csv_header();
  const auto done = leaves->store->each_entry([&](const core::LedgerEntry& entry) {
    if (csv) {
      write_csv(entry);
    } else {
      std::cout << entry_json(entry).dump(-1, ' ', false, Json::error_handler_t::replace) << '\n';
    }
    return std::cout.good();
  });
  if (!done) return context.fail(done.failure());
  return context.delivered(kDone);
}

}  // namespace

void add_ledger(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "ledger");
  verb->require_subcommand(1);
  on_call<VerifyOptions>(*add_verb(*verb, context, "verify"), context, verify);
  CLI::App* exporting = add_verb(*verb, context, "export");
  auto options = on_call<ExportOptions>(*exporting, context, export_entries);
  add_option(*exporting, context, "--format", options->format);
}

}  // namespace loadlight::cli
