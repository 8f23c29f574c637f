#include "services.h"

#include "schema.h"

namespace loadlight::store {

using core::ServiceEntry;

template <>
const RecordTable<ServiceEntry>& table_of() {
  static const RecordTable<ServiceEntry> table{
      "services",
      "service",
      {column<&ServiceEntry::number>("number").key(),
       column<&ServiceEntry::sterilizer>("sterilizer").refers_to("sterilizers"),
       column<&ServiceEntry::kind>("kind"), column<&ServiceEntry::note>("note"),
       column<&ServiceEntry::counter_reset>("counter_reset"), column<&ServiceEntry::next_due>("next_due"),
       column<&ServiceEntry::done_by>("done_by").refers_to("operators"),
       column<&ServiceEntry::done_at>("done_at")},
      {},
      {{"services_by_sterilizer", "sterilizer, number"}}};
  return table;
}

core::Result<std::vector<ServiceEntry>> Services::of_sterilizer(std::string_view code) const {
  return table_of<ServiceEntry>().select(session_, "WHERE sterilizer = $1 ORDER BY number",
                                         {std::string{code}});
}

core::Result<int> Services::highest_number() const {
  return highest(session_, "SELECT max(number) FROM services");
}

}  // namespace loadlight::store
