#include "loadlight/core/failure.h"

namespace loadlight::core {

std::string_view to_text(FailureCode code) {
  switch (code) {
#define ROW(name, text, kind) \
  case FailureCode::name:     \
    return text;
    LOADLIGHT_FAILURES(ROW)
#undef ROW
  }
  return "internal";
}

FailureKind kind_of(FailureCode code) {
  switch (code) {
#define ROW(name, text, kind) \
  case FailureCode::name:     \
    return FailureKind::kind;
    LOADLIGHT_FAILURES(ROW)
#undef ROW
  }
  return FailureKind::Failed;
}

std::vector<FailureCode> all_failure_codes() {
  return {
#define ROW(name, text, kind) FailureCode::name,
      LOADLIGHT_FAILURES(ROW)
#undef ROW
  };
}

}  // namespace loadlight::core
