// What the pages about shelves share: how an audit's findings are sorted and shown.
#pragma once

#include <string>
#include <string_view>

#include "loadlight/app/audit_shelf.h"
#include "web/visit.h"

namespace loadlight::web {

// Sources of an audit, as the ledger has them: frames that a browser sends.
inline constexpr std::string_view kStationCamera = "station-camera";
inline constexpr std::string_view kPhotographs = "station-photographs";

// In words; a file by its name.
std::string source_text(const Visit& visit, const std::string& source);

// The last part of what a browser gave as a file's name, cut to a length that can be kept.
std::string upload_name(std::string_view given);

// "in_view": corners, outcome and status of each label; "packages", "frame", "location", "hints" (large words,
// what to do) and what is left of the time.
View progress_view(const Visit& visit, const app::AuditProgress& progress);

// "counts", and "lists" to walk the shelf with, only those with something in them, each package in the first
// that fits it: "name" (a code), "title", "advice", "packages".
View findings_view(const Visit& visit, const app::AuditReply& reply);
// Expected and not seen: by location.
View not_seen_view(const Visit& visit, const app::AuditReply& reply);

}  // namespace loadlight::web
