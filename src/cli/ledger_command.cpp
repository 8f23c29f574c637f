#include <filesystem>
#include <iostream>

#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/make_checkpoint.h"
#include "loadlight/app/verify_ledger.h"
#include "loadlight/exchange/csv.h"

namespace loadlight::cli {
namespace {

struct VerifyOptions final {
  std::vector<std::string> checkpoints;
};

constexpr std::size_t kLargestGiven = 64 << 20;  // bytes of checkpoints kept elsewhere

core::Result<app::VerifyRequest> verify_request(const Context& context, const VerifyOptions& options) {
  app::VerifyRequest request;
  for (const std::string& path : options.checkpoints) {
    auto text = context.world.files.read(path, kLargestGiven);
    if (!text) return text.failure();
    request.given.push_back({path, std::move(*text)});
  }
  return request;
}

core::Result<app::LedgerVerdict> verdict_of(const Context& context, const VerifyOptions& options) {
  const auto request = verify_request(context, options);
  if (!request) return request.failure();
  const auto leaves = context.world.open_office(context.office_folder);
  if (!leaves) return leaves.failure();
  const auto book = context.world.open_checkpoints(context.office_folder);
  return app::verify_ledger(*leaves->store, *book, *request);
}

int verify(const Context& context, const VerifyOptions& options) {
  const auto verdict = verdict_of(context, options);
  if (!verdict) {
    context.fail(verdict.failure());
    return kFailed;
  }
  for (const port::Alteration& found : verdict->alterations) {
    context.answer({{"where", found.where}, {"what", found.what}},
                   context.text("line.alteration",
                                {{"where", found.where}, {"what", context.text("alteration." + found.what)}}));
  }
  for (const core::Sentence& note : verdict->notes) context.tell(context.text(note.key, note.details));
  if (!verdict->alterations.empty()) return context.delivered(kRefused);
  context.tell(context.text("ledger.whole"));
  return kDone;
}

struct CheckpointOptions final {
  std::string out;
};

// Where it is to be kept is looked at before it is taken.
core::Result<void> must_be_free(const Context& context, const std::string& out) {
  if (out.empty()) return {};
  if (auto spared = context.spare_the_office(out); !spared) return spared;
  std::error_code unknown;
  if (!std::filesystem::exists(std::filesystem::symlink_status(out, unknown))) return {};
  return core::Failure{core::FailureCode::FileExists, {{"path", out}}, {}};
}

int checkpoint(const Context& context, const CheckpointOptions& options) {
  if (const auto free = must_be_free(context, options.out); !free) return context.fail(free.failure());
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto book = context.world.open_checkpoints(context.office_folder);
  const auto taken = app::take_checkpoint(*book, (*office)->ports, context.operator_code);
  if (!taken) return context.fail(taken.failure());
  const std::string line = book->line_of(*taken);
  if (!options.out.empty()) {
    const auto written = context.world.files.write(options.out, line + "\n");
    if (!written) return context.fail(written.failure());
    context.tell(context.text("line.written", {{"path", options.out}}));
  }
  context.answer(Json::parse(line), line);
  return context.delivered(kDone);
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
  CLI::App* verifying = add_verb(*verb, context, "verify");
  add_option(*verifying, context, "--checkpoint", on_call<VerifyOptions>(*verifying, context, verify)->checkpoints);
  CLI::App* marking = add_verb(*verb, context, "checkpoint");
  add_option(*marking, context, "--out", on_call<CheckpointOptions>(*marking, context, checkpoint)->out);
  add_backup_verbs(*verb, context);
  CLI::App* exporting = add_verb(*verb, context, "export");
  auto options = on_call<ExportOptions>(*exporting, context, export_entries);
  add_option(*exporting, context, "--format", options->format);
}

}  // namespace loadlight::cli
