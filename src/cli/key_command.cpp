#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/add_key.h"

namespace loadlight::cli {
namespace {

struct AddOptions final {};

int add(const Context& context, const AddOptions&) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto key = app::add_key(context.world, context.office_folder, (*office)->ports, context.operator_code);
  if (!key) return context.fail(key.failure());
  context.answer({{"key", key->number}, {"found", key->found}},
                 context.text(key->found ? "line.key-found" : "line.key-added",
                              {{"key", std::to_string(key->number)}}));
  return context.delivered(kDone);
}

struct ListOptions final {};

int list(const Context& context, const ListOptions&) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto keys = app::list_keys((*office)->ports);
  if (!keys) return context.fail(keys.failure());
  for (const app::KeyLine& key : *keys) {
    const auto at = key.at ? core::to_text(*key.at) : std::string{};
    const std::string words = key.at ? "line.key" : "line.key-untold";
    context.answer({{"key", key.number}, {"signs", key.signs}, {"at", at}, {"operator", key.operator_code}},
                   context.text(words, {{"key", std::to_string(key.number)},
                                        {"at", key.at ? (*office)->ports.zone.local_text(*key.at) : ""},
                                        {"signs", key.signs ? context.text("line.key.signs") : ""}}));
  }
  return context.delivered(kDone);
}

}  // namespace

void add_key(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "key");
  verb->require_subcommand(1);
  on_call<AddOptions>(*add_verb(*verb, context, "add"), context, add);
  on_call<ListOptions>(*add_verb(*verb, context, "list"), context, list);
}

}  // namespace loadlight::cli
