// Every command's door, one file each. The table is in program.cpp.
#pragma once

#include <CLI/CLI.hpp>

#include "cli/context.h"

namespace loadlight::cli {

void add_init(CLI::App& app, Context& context);
void add_tables(CLI::App& app, Context& context);    // operator, sterilizer, contents, kind, location, stock
void add_label(CLI::App& app, Context& context);
void add_load(CLI::App& app, Context& context);
void add_check(CLI::App& app, Context& context);
void add_opening(CLI::App& app, Context& context);   // open, opened, withdraw, shelve
void add_read(CLI::App& app, Context& context);
void add_ledger(CLI::App& app, Context& context);
void add_clock(CLI::App& app, Context& context);

}  // namespace loadlight::cli
