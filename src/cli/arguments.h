// Verbs and options with their help from the words catalogue, and the values they carry.
#pragma once

#include <optional>
#include <string>

#include <CLI/CLI.hpp>

#include "cli/context.h"
#include "loadlight/app/print_record.h"

namespace loadlight::cli {

// A verb below `parent`; its help is the words key "help.verb.<path>", with spaces as dots.
CLI::App* add_verb(CLI::App& parent, const Context& context, const std::string& name);

// An option; its help is "help.option.<name>" (without dashes). `name` may begin without dashes: then it
// is positional.
template <class T>
CLI::Option* add_option(CLI::App& verb, const Context& context, const std::string& name, T& value) {
  const auto bare = name.find_first_not_of('-');
  return verb.add_option(name, value, context.text("help.option." + name.substr(bare)));
}
CLI::Option* add_flag(CLI::App& verb, const Context& context, const std::string& name, bool& value);

// Lets `work` run with the options it returns, once the verb was named.
template <class Options>
std::shared_ptr<Options> on_call(CLI::App& verb, Context& context,
                                 int (*work)(const Context&, const Options&)) {
  auto options = std::make_shared<Options>();
  verb.callback([&context, options, work] {
    context.action = [&context, options, work] { return work(context, *options); };
  });
  return options;
}

// Texts into values; BadLoadName, BadDate, BadValue with the option's name.
core::Result<core::LoadName> parse_load(const std::string& text);
core::Result<core::CivilDate> parse_date(const std::string& option, const std::string& text);
core::Result<std::optional<core::CivilDate>> parse_optional_date(const std::string& option,
                                                                 const std::string& text);
core::Result<bool> parse_yes_no(const std::string& option, const std::string& text);
// `known`: what the option takes, where that can be listed.
core::Failure bad_value(const std::string& option, const std::string& given, const std::string& known = "");

template <class E>
core::Result<E> parse_term(const std::string& option, const std::string& text) {
  const auto value = core::parse<E>(text);
  if (value) return *value;
  std::string known;
  for (const auto& term : core::Vocabulary<E>::kTerms) {
    known += (known.empty() ? "" : ", ") + std::string{term.text};
  }
  return bad_value(option, text, known);
}

// "X,Y" in millimetres, to the whole micron: what the record keeps, so that a reprint lies where it lay.
struct Nudge final {
  double x = 0;
  double y = 0;
};
core::Result<Nudge> parse_nudge(const std::string& text);

core::Result<app::PageSize> parse_paper(const std::string& text);

// "3,5-7": whole numbers from 1, as a list.
core::Result<std::vector<int>> parse_cells(const std::string& text);

}  // namespace loadlight::cli
