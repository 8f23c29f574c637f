// What the verbs below "load" have in common; those about evidence stand in load_evidence_verbs.cpp.
#pragma once

#include <memory>
#include <string>
#include <utility>

#include "cli/answers.h"
#include "cli/arguments.h"
#include "loadlight/app/release_load.h"

namespace loadlight::cli {

// Opens the office and runs a use case about one load.
template <class Work>
int with_load(const Context& context, const std::string& text, Work work) {
  const auto name = parse_load(text);
  if (!name) return context.fail(name.failure());
  const auto office = context.open_office();
  if (!office) return context.fail(office.failure());
  return work((*office)->ports, *name);
}

// A load that took a step: where it stands, and what that says of its packages.
inline int answer_step(const Context& context, const core::Result<core::Load>& load,
                       Json more = Json::object()) {
  if (!load) return context.fail(load.failure());
  answer_load(context, *load, core::verdict_of_state(load->state), std::move(more), Tell::State);
  return kDone;
}

// A load that has ended: what still speaks against its release. The step is done and stays done, even where the
// record cannot be asked any more what it led to.
inline int answer_ended(const Context& context, const app::Ports& ports, const core::Result<core::Load>& load,
                        Json more = Json::object()) {
  if (!load) return context.fail(load.failure());
  const auto view = app::show_load(ports, load->name);
  if (view) {
    answer_load(context, view->load, view->verdict, std::move(more));
  } else {
    answer_load(context, *load, core::Verdict::against({core::Reason::RecordUnreachable}), std::move(more));
  }
  return kDone;
}

// A verb below "load" whose options name a load, if they have one.
template <class Options>
std::shared_ptr<Options> add_step(CLI::App& parent, Context& context, const char* name,
                                  int (*work)(const Context&, const Options&)) {
  CLI::App* verb = add_verb(parent, context, name);
  auto options = on_call<Options>(*verb, context, work);
  if constexpr (requires { options->load; }) add_option(*verb, context, "load", options->load)->required();
  return options;
}

void add_evidence_verbs(CLI::App& verb, Context& context);

}  // namespace loadlight::cli
