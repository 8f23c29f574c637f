#include "loadlight/store/group_reach.h"

#include <libpq-fe.h>

namespace loadlight::store {
namespace {

constexpr const char* kPatienceSeconds = "2";

}  // namespace

// What the address says itself comes later and counts.
bool server_answers(const std::string& address) {
  const char* names[] = {"connect_timeout", "dbname", nullptr};
  const char* values[] = {kPatienceSeconds, address.c_str(), nullptr};
  return PQpingParams(names, values, 1) == PQPING_OK;
}

}  // namespace loadlight::store
