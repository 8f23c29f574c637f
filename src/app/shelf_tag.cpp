#include "loadlight/app/shelf_tag.h"

#include "loadlight/core/payload.h"

namespace loadlight::app {

using core::Failure;
using core::FailureCode;
using core::Result;

Result<core::Location> location_of(const Ports& ports, const port::Unit& unit, std::string_view reference) {
  std::string code{reference.substr(0, 100)};
  const core::PayloadText text = core::parse_payload(reference);
  if (const auto* tag = std::get_if<core::ShelfTagText>(&text)) {
    if (!ports.keyring.verifies(tag->signed_part, tag->authenticator)) {
      return Failure{FailureCode::ShelfTagNotAuthentic, {}, {}};
    }
    code = tag->location;
  }
  const auto found = unit.locations().find(code);
  if (!found) return found.failure();
  const core::Details named{{"table", "location"}, {"code", code}};
  if (!*found) return Failure{FailureCode::CodeUnknown, named, {}};
  if ((**found).retired_on) return Failure{FailureCode::CodeRetired, named, {}};
  return **found;
}

}  // namespace loadlight::app
