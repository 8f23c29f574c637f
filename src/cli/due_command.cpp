#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"
#include "loadlight/app/list_due.h"

namespace loadlight::cli {
namespace {

struct DueOptions final {};

int due(const Context& context, const DueOptions&) {
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  const auto items = app::list_due((*office)->ports);
  if (!items) return context.fail(items.failure());
  for (const core::DueItem& item : *items) {
    const std::string kind{core::to_text(item.kind)};
    context.answer(
        {{"kind", kind}, {"subject", item.subject}, {"when", item.when.iso()}, {"overdue", item.overdue}},
        context.text(
            item.overdue ? "line.due-late" : "line.due",
            {{"date", item.when.iso()}, {"what", context.text("due." + kind)}, {"subject", item.subject}}));
  }
  if (items->empty()) context.tell(context.text("due.nothing"));
  return context.delivered(kDone);
}

}  // namespace

void add_due(CLI::App& app, Context& context) {
  on_call<DueOptions>(*add_verb(app, context, "due"), context, due);
}

}  // namespace loadlight::cli
