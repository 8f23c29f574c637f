// Every command's door, one file each. The table is in program.cpp.
#pragma once

#include <CLI/CLI.hpp>

#include "cli/context.h"

namespace loadlight::cli {

void add_init(CLI::App& app, Context& context);
// operator, sterilizer, contents, kind, location, stock, program, consumable
void add_tables(CLI::App& app, Context& context);
// Below those: stock_verbs.cpp and service_verbs.cpp.
void add_stock_verbs(CLI::App& stock_verb, Context& context);            // rate, trial
void add_pin_verb(CLI::App& operator_verb, Context& context);            // pin_verb.cpp
void add_service_verbs(CLI::App& sterilizer_verb, Context& context);  // out, return, service, log
void add_backup_verbs(CLI::App& ledger_verb, Context& context);       // backup_command.cpp
void add_program_acceptance(CLI::App& program_verb, Context& context);
void add_lot_recall(CLI::App& consumable_verb, Context& context);     // lot_verb.cpp
void add_label(CLI::App& app, Context& context);
void add_load(CLI::App& app, Context& context);
void add_check(CLI::App& app, Context& context);
void add_opening(CLI::App& app, Context& context);   // open, opened, withdraw, shelve
void add_read(CLI::App& app, Context& context);
void add_audit(CLI::App& app, Context& context);
void add_incident(CLI::App& app, Context& context);  // incident, recall
void add_due(CLI::App& app, Context& context);
void add_profile(CLI::App& app, Context& context);
void add_ledger(CLI::App& app, Context& context);
void add_clock(CLI::App& app, Context& context);
void add_key(CLI::App& app, Context& context);       // key add, list
void add_station(CLI::App& app, Context& context);   // station invite, join
void add_export(CLI::App& app, Context& context);
void add_serve(CLI::App& app, Context& context);
void add_group(CLI::App& app, Context& context);
void add_office(CLI::App& app, Context& context);    // office move

// Records on paper: record_printing.cpp. The exit status.
int print_notice(const Context& context, const OpenOffice& office, int incident, const std::string& path);
void add_report_verbs(CLI::App& load_verb, Context& context);  // report, plot

}  // namespace loadlight::cli
