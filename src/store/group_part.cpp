#include "loadlight/store/group_part.h"

extern "C" __attribute__((visibility("default"))) const loadlight::store::GroupPart* loadlight_group_part() {
  using namespace loadlight::store;
  static const GroupPart part{prepare_group,     admit_office,      admit_lead,       list_offices,
                              open_group_record, read_wrapped_keys, keep_wrapped_keys,
                              server_answers,    listen_for_changes, mirror_record,
                              same_ledger,       is_empty_record,   whereabouts_of,
                              set_whereabouts,   verify_place};
  return &part;
}
