#include "loadlight/core/reasons.h"

namespace loadlight::core {

std::string_view to_text(Outcome outcome) {
  switch (outcome) {
    case Outcome::Clear:
      return "clear";
    case Outcome::Hold:
      return "hold";
    case Outcome::DoNotUse:
      return "do-not-use";
  }
  return "do-not-use";
}

std::string_view to_text(Reason reason) {
  switch (reason) {
#define ROW(name, text, weight, scope) \
  case Reason::name:                   \
    return text;
    LOADLIGHT_REASONS(ROW)
#undef ROW
  }
  return "record-damaged";
}

Outcome weight_of(Reason reason) {
  switch (reason) {
#define ROW(name, text, weight, scope) \
  case Reason::name:                   \
    return Outcome::weight;
    LOADLIGHT_REASONS(ROW)
#undef ROW
  }
  return Outcome::DoNotUse;
}

ReasonScope scope_of(Reason reason) {
  switch (reason) {
#define ROW(name, text, weight, scope) \
  case Reason::name:                   \
    return ReasonScope::scope;
    LOADLIGHT_REASONS(ROW)
#undef ROW
  }
  return ReasonScope::Both;
}

std::vector<Reason> all_reasons() {
  return {
#define ROW(name, text, weight, scope) Reason::name,
      LOADLIGHT_REASONS(ROW)
#undef ROW
  };
}

std::string_view to_text(Note note) {
  switch (note) {
#define ROW(name, text) \
  case Note::name:      \
    return text;
    LOADLIGHT_NOTES(ROW)
#undef ROW
  }
  return "";
}

std::vector<Note> all_notes() {
  return {
#define ROW(name, text) Note::name,
      LOADLIGHT_NOTES(ROW)
#undef ROW
  };
}

}  // namespace loadlight::core
