// The record of a group of offices as a part loaded at run time: the shared object exports `loadlight_group_part`,
// which returns this table. What each function does: group_record.h,
// group_reach.h, group_news.h, mirror.h.
#pragma once

#include "loadlight/store/group_news.h"
#include "loadlight/store/group_reach.h"
#include "loadlight/store/group_record.h"
#include "loadlight/store/mirror.h"

namespace loadlight::store {

struct GroupPart final {
  decltype(&store::prepare_group) prepare;
  decltype(&store::admit_office) admit_office;
  decltype(&store::admit_lead) admit_lead;
  decltype(&store::list_offices) list_offices;
  decltype(&store::open_group_record) open_record;
  decltype(&store::read_wrapped_keys) read_wrapped_keys;
  decltype(&store::keep_wrapped_keys) keep_wrapped_keys;
  decltype(&store::server_answers) server_answers;
  decltype(&store::listen_for_changes) listen_for_changes;
  decltype(&store::mirror_record) mirror_record;
  decltype(&store::same_ledger) same_ledger;
  decltype(&store::is_empty_record) is_empty_record;
  decltype(&store::whereabouts_of) whereabouts_of;
  decltype(&store::set_whereabouts) set_whereabouts;
  decltype(&store::verify_place) verify_place;
};

inline constexpr const char* kGroupPartEntry = "loadlight_group_part";
using GroupPartEntry = const GroupPart* (*)();

}  // namespace loadlight::store
