// The pages, as the table of routes names them. Each is in the file named above it.
#pragma once

#include "web/visit.h"

namespace loadlight::web {

// static_files.cpp, live.cpp, choose_language.cpp
Response static_file(Visit& visit);
Response live(Visit& visit);
Response choose_language(Visit& visit);

// sign_in_page.cpp
Response sign_in_page(Visit& visit);
Response sign_in(Visit& visit);
Response sign_in_by_badge(Visit& visit);
Response switch_operator(Visit& visit);
Response sign_out(Visit& visit);
Response still_here(Visit& visit);
Response unlock(Visit& visit);

// first_run.cpp, issued_pin.cpp
Response first_run_page(Visit& visit);
Response first_run(Visit& visit);
Response first_run_demo(Visit& visit);
Response issued_pin(Visit& visit);
Response pin_noted(Visit& visit);

// set_up_page.cpp, table_page.cpp, entry_page.cpp, entry_acts.cpp, service_acts.cpp, set_up_papers.cpp
Response set_up_page(Visit& visit);
Response table_page(Visit& visit);
Response add_entry(Visit& visit);
Response import_table(Visit& visit);
Response export_table(Visit& visit);
Response entry_page(Visit& visit);
Response retire_entry(Visit& visit);
Response set_operator_pin(Visit& visit);
Response rate_stock(Visit& visit);
Response accept_program(Visit& visit);
Response record_service(Visit& visit);
Response take_out_of_service(Visit& visit);
Response return_to_service(Visit& visit);
Response badge_paper(Visit& visit);
Response shelf_tag_paper(Visit& visit);

// Set-up of the office itself: profile_page.cpp, labels_page.cpp, backup_page.cpp, keys_page.cpp, export_page.cpp, clock_page.cpp
Response labels_page(Visit& visit);
Response label_picture(Visit& visit);
Response label_test_page(Visit& visit);
Response try_template(Visit& visit);
Response backup_page(Visit& visit);
Response backup_archive(Visit& visit);
Response profile_page(Visit& visit);
Response keys_page(Visit& visit);
Response add_office_key(Visit& visit);
Response export_page(Visit& visit);
Response export_archive(Visit& visit);
Response set_profile_value(Visit& visit);
Response clock_page(Visit& visit);
Response accept_clock(Visit& visit);

// Tablets: tablets_page.cpp
Response tablets_page(Visit& visit);
Response authority_certificate(Visit& visit);
Response station_address_symbol(Visit& visit);

// today.cpp
Response today(Visit& visit);

// check_page.cpp, check_again.cpp
Response check_page(Visit& visit);
Response check_frame(Visit& visit);
Response check_text(Visit& visit);
Response check_again(Visit& visit);

// shelf_page.cpp, shelf_sweep.cpp, shelf_report.cpp
Response shelf_page(Visit& visit);
Response begin_sweep(Visit& visit);
Response begin_video(Visit& visit);
Response go_on_with_sweep(Visit& visit);
Response sweep_page(Visit& visit);
Response sweep_frame(Visit& visit);
Response sweep_photograph(Visit& visit);
Response end_sweep(Visit& visit);
Response audit_report(Visit& visit);
Response audit_report_pdf(Visit& visit);
Response audit_report_csv(Visit& visit);
Response audit_report_lines(Visit& visit);
Response unreadable_picture(Visit& visit);

// recall_page.cpp, recall_acts.cpp
Response recall_list(Visit& visit);
Response incident_page(Visit& visit);
Response earlier_clears_page(Visit& visit);
Response do_incident_step(Visit& visit);
Response account_for_suspect(Visit& visit);
Response narrow_incident(Visit& visit);
Response call_load_back(Visit& visit);
Response close_incident_form(Visit& visit);
Response recall_notice_paper(Visit& visit);
Response recall_notice_table(Visit& visit);

// package_page.cpp, open_page.cpp, withdraw_page.cpp, shelve_page.cpp
Response package_page(Visit& visit);
Response check_package(Visit& visit);
Response open_page(Visit& visit);
Response open_package(Visit& visit);
Response opened_page(Visit& visit);
Response record_internal(Visit& visit);
Response withdraw_page(Visit& visit);
Response withdraw(Visit& visit);
Response shelve_page(Visit& visit);
Response look_at_shelved(Visit& visit);
Response read_shelved(Visit& visit);
Response shelve(Visit& visit);

// records_page.cpp, records_period.cpp, ledger_state.cpp
Response records_page(Visit& visit);
Response period_pdf(Visit& visit);
Response period_csv(Visit& visit);
Response ledger_state(Visit& visit);
Response begin_ledger_check(Visit& visit);
Response stop_ledger_check(Visit& visit);

// loads_page.cpp, load_page.cpp
Response loads_page(Visit& visit);
Response open_load_here(Visit& visit);
Response load_page(Visit& visit);
// load_filling.cpp, load_steps.cpp
Response add_by_frame(Visit& visit);
Response add_by_text(Visit& visit);
Response remove_package(Visit& visit);
Response add_loose(Visit& visit);
Response start_load_here(Visit& visit);
Response finish_load_here(Visit& visit);
// load_evidence.cpp
Response record_readings_here(Visit& visit);
Response read_log_here(Visit& visit);
Response record_leak_here(Visit& visit);
Response record_indicator_here(Visit& visit);
Response place_biological_here(Visit& visit);
Response move_biological_here(Visit& visit);
Response record_biological_here(Visit& visit);
// load_decision.cpp, load_papers.cpp
Response release_load_here(Visit& visit);
Response revoke_load_here(Visit& visit);
Response recall_load_here(Visit& visit);
Response load_plot(Visit& visit);
Response load_record(Visit& visit);

// pack_page.cpp
Response pack_page(Visit& visit);
Response pack_steps(Visit& visit);
Response pack_old_label(Visit& visit);
Response pack_preview(Visit& visit);
Response pack_preview_picture(Visit& visit);

// pack_print.cpp
Response pack_print(Visit& visit);
Response reprint_run(Visit& visit);
Response pack_paper(Visit& visit);

// print_runs_page.cpp
Response print_runs(Visit& visit);
Response print_run(Visit& visit);
Response void_of_run(Visit& visit);

// replace_label_page.cpp
Response replace_label_page(Visit& visit);
Response replace_label(Visit& visit);

// print_jobs.cpp
Response print_job(Visit& visit);
Response cancel_print_job(Visit& visit);
Response send_print_job(Visit& visit);

// printers_page.cpp
Response printers_page(Visit& visit);
Response set_printer(Visit& visit);
Response remove_printer(Visit& visit);
Response printer_state(Visit& visit);

}  // namespace loadlight::web
