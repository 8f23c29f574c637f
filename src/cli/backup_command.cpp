// ledger backup and ledger restore.
#include "cli/arguments.h"
#include "cli/commands.h"
#include "cli/move_telling.h"
#include "loadlight/app/back_up.h"
#include "loadlight/app/restore_office.h"

namespace loadlight::cli {
namespace {

struct BackupOptions final {
  std::string out;
};

int backup(const Context& context, const BackupOptions& options) {
  if (const auto ok = context.spare_the_office(options.out); !ok) return context.fail(ok.failure());
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto file = context.world.new_file(options.out);
  if (!file) return context.fail(file.failure());
  const auto made =
      app::back_up(context.world, context.office_folder, (*office)->ports, context.operator_code, **file);
  if (!made) return context.fail(made.failure());
  context.answer({{"out", options.out}, {"entry", made->entry}, {"hash", made->hash}},
                 context.text("line.backed-up", {{"path", options.out}, {"entry", std::to_string(made->entry)}}));
  return context.delivered(kDone);
}

struct RestoreOptions final {
  std::string file;
  std::string into;
  std::string beside;
};

Json instant_json(const std::optional<core::Instant>& at) {
  return at ? Json(core::to_text(*at)) : Json(nullptr);
}

template <class E>
Json term_json(const std::optional<E>& value) {
  return value ? Json(std::string{core::to_text(*value)}) : Json(nullptr);
}

template <class E>
std::string term_text(const std::optional<E>& value) {
  return value ? std::string{core::to_text(*value)} : "-";
}

// Whichever knows more.
std::optional<app::NewerElsewhere> furthest(const app::RestoreReply& reply) {
  const auto& [a, b] = std::pair{reply.by_checkpoints, reply.by_beside};
  if (!a || !b) return a ? a : b;
  return a->last_entry > b->last_entry ? a : b;
}

void answer_apart(const Context& context, const app::PackageApart& one) {
  context.answer({{"package", one.id.text()},
                  {"restored", term_json(one.restored)},
                  {"restored_load", term_json(one.restored_load)},
                  {"beside", term_json(one.beside)},
                  {"beside_load", term_json(one.beside_load)},
                  {"beside_recalled", one.beside_recalled}},
                 context.text("line.package-apart", {{"package", one.id.text()},
                                                     {"restored", term_text(one.restored)},
                                                     {"restored-load", term_text(one.restored_load)},
                                                     {"beside", term_text(one.beside)},
                                                     {"beside-load", term_text(one.beside_load)}}));
}

void tell_newer(const Context& context, const app::RestoreReply& reply) {
  const auto newer = furthest(reply);
  const std::string since = reply.newest ? core::to_text(*reply.newest) : "-";
  if (!newer) {
    context.tell(context.text("restore.nothing-newer-known", {{"since", since}}));
    return;
  }
  context.tell(context.text("restore.newer-elsewhere",
                            {{"count", std::to_string(newer->last_entry - reply.entry)},
                             {"latest", newer->latest ? core::to_text(*newer->latest) : "-"},
                             {"since", since}}));
}

// An office that was put back into a folder, on its way into a group, waits there.
int fail_on_the_way(const Context& context, const core::Failure& failure, const std::string& into) {
  const int status = context.fail(failure);
  for (const auto& [name, value] : failure.details) {
    if (name == "restored") context.tell(context.text("restore.waits-in-folder", {{"path", value}, {"to", into}}));
  }
  return status;
}

int restore(const Context& context, const RestoreOptions& options) {
  const auto restored = app::restore_office(
      context.world, {options.file, options.into, options.beside, context.operator_code}, MoveTelling{context});
  if (!restored) return fail_on_the_way(context, restored.failure(), options.into);
  const auto newer = furthest(*restored);
  context.answer({{"restored", options.into},
                  {"entry", restored->entry},
                  {"newest", instant_json(restored->newest)},
                  {"missing", newer ? newer->last_entry - restored->entry : 0},
                  {"latest_known", newer ? instant_json(newer->latest) : Json(nullptr)}},
                 context.text("line.restored", {{"path", options.into}, {"entry", std::to_string(restored->entry)}}));
  for (const app::PackageApart& one : restored->apart) answer_apart(context, one);
  tell_newer(context, *restored);
  for (const core::Sentence& note : restored->notes) context.tell(context.text(note.key, note.details));
  return context.delivered(kDone);
}

}  // namespace

void add_backup_verbs(CLI::App& ledger_verb, Context& context) {
  CLI::App* backing = add_verb(ledger_verb, context, "backup");
  add_option(*backing, context, "--out", on_call<BackupOptions>(*backing, context, backup)->out)->required();
  CLI::App* restoring = add_verb(ledger_verb, context, "restore");
  const auto options = on_call<RestoreOptions>(*restoring, context, restore);
  add_option(*restoring, context, "backup", options->file)->required();
  add_option(*restoring, context, "--into", options->into)->required();
  add_option(*restoring, context, "--beside", options->beside);
}

}  // namespace loadlight::cli
