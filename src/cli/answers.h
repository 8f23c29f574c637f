// How replies look: one JSON object a line, and lines for a person.
#pragma once

#include <string>

#include "cli/context.h"
#include "loadlight/app/check_packages.h"
#include "loadlight/app/office_tables.h"
#include "loadlight/app/print_labels.h"
#include "loadlight/core/verdict.h"

namespace loadlight::cli {

int exit_status(core::Outcome outcome);

Json reasons_json(const Context& context, const core::Verdict& verdict);
Json notes_json(const core::Verdict& verdict);
std::string reasons_text(const Context& context, const core::Verdict& verdict);

void answer_check(const Context& context, const app::CheckReply& reply);
// Whether a person is told the reasons too: a step that was just taken speaks for itself.
enum class Tell { State, Reasons };
void answer_load(const Context& context, const core::Load& load, const core::Verdict& verdict,
                 Json more = Json::object(), Tell tell = Tell::Reasons);
void answer_package(const Context& context, const core::Package& package, Json more = Json::object());
void answer_printed(const Context& context, const app::PrintReply& reply, const std::string& out);
void answer_row(const Context& context, app::OfficeTable table, const app::Row& row);

template <class T>
Json optional_text(const std::optional<T>& value) {
  return value ? Json(*value) : Json(nullptr);
}
inline Json optional_number(const std::optional<int>& value) { return value ? Json(*value) : Json(nullptr); }
inline Json date_json(const std::optional<core::CivilDate>& date) {
  return date ? Json(date->iso()) : Json(nullptr);
}

}  // namespace loadlight::cli
