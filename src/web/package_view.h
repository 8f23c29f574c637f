// How verdicts, packages and loads are shown, the same on every page.
#pragma once

#include "loadlight/app/check_packages.h"
#include "loadlight/core/load.h"
#include "loadlight/core/verdict.h"
#include "web/visit.h"

namespace loadlight::web {

// "outcome" (its code), "clear", "hold", "do_not_use" (one is true), "outcome_word", "advice" (what the
// outcome asks for in one sentence).
View outcome_view(const Visit& visit, core::Outcome outcome);

// All reasons, worst first: a list of "code", "text", "action".
View reasons_view(const Visit& visit, const core::Verdict& verdict);

// For parts/verdict: the outcome, contents, load, dates, reasons and notes of one answer.
View check_view(const Visit& visit, const app::CheckReply& reply);
// The same of a package that a page of its own is about: nobody typed its id just now.
View own_page_view(const Visit& visit, const app::CheckReply& reply);

// A day as people of this language read it: "28 Nov 2026".
std::string day_text(const Visit& visit, core::CivilDate day);
// A time of day and its day in the office's zone: "14:05, 28 Nov 2026".
std::string time_text(const Visit& visit, const port::Zone& zone, core::Instant at);

// The code of one of our own enumerations, as the vocabulary spells it.
template <class T>
std::string code_text(T value) {
  return std::string{core::to_text(value)};
}

}  // namespace loadlight::web
