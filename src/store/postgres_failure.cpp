#include "postgres_failure.h"

#include <string>

namespace loadlight::store {
namespace {

using core::FailureCode;

struct Row final {
  std::string_view state;  // its beginning, the longer first
  FailureCode code;
};
// PostgreSQL 15 documentation, appendix A: error codes.
constexpr Row kRows[] = {
    {"40", FailureCode::ChangedMeanwhile},     // serialization failure, deadlock
    {"23505", FailureCode::ChangedMeanwhile},  // a number or key that another station took first
    {"55P03", FailureCode::OfficeBusy},        // lock not available in time
    {"57014", FailureCode::OfficeBusy},        // a statement that took too long
    {"25006", FailureCode::OfficeReadOnly},    // a standby server, or one set to read only
    {"42501", FailureCode::OfficeReadOnly},    // the role lacks the right
    {"53100", FailureCode::DiskFull},
    {"XX001", FailureCode::RecordDamaged},     // data corrupted
    {"XX002", FailureCode::RecordDamaged},     // index corrupted
    {"53", FailureCode::OfficeBusy},           // connections or memory used up
    {"28", FailureCode::OfficeUnreadable},     // a role or password that the server does not take
    {"3D", FailureCode::OfficeAbsent},         // no such database
    {"2200H", FailureCode::OfficeMoved},       // its ledger was closed: the sequence has come to its end
    {"22", FailureCode::BadEncoding},          // a text that the database cannot hold
    {"08", FailureCode::OfficeUnreadable},     // the connection broke
    {"57P", FailureCode::OfficeUnreadable},    // the server is going down or coming up
};

}  // namespace

core::Failure postgres_failure(std::string_view state, std::string_view place, std::string_view message) {
  core::Failure failure{state.empty() ? FailureCode::OfficeUnreadable : FailureCode::Internal,
                        {{"path", std::string{place}}, {"why", std::string{message.substr(0, message.find('\n'))}}},
                        {}};
  for (const Row& row : kRows) {
    if (state.substr(0, row.state.size()) != row.state) continue;
    failure.code = row.code;
    break;
  }
  return failure;
}

}  // namespace loadlight::store
