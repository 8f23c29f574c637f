#include "loadlight/app/make_office.h"

#include "loadlight/core/profiles.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

Failure bad_value(const char* field, std::string given) {
  return Failure{FailureCode::BadValue, {{"field", field}, {"given", std::move(given)}}, {}};
}

}  // namespace

Result<core::Office> make_office(const Ports& ports, const OfficeRequest& request) {
  if (!core::find_profile(request.profile)) return bad_value("profile", request.profile);
  if (request.shelf_life_days && (*request.shelf_life_days < 1 || *request.shelf_life_days > 3650)) {
    return bad_value("shelf-life", std::to_string(*request.shelf_life_days));
  }
  core::Office office;
  office.name = request.name;
  office.zone = request.zone;
  office.profile = request.profile;
  office.language = request.language;
  office.shelf_life_days = request.shelf_life_days;
  office.made_at = ports.clock.now();
  auto unit = ports.store.begin(port::Access::Write);
  if (!unit) return unit.failure();
  core::Change change;
  change.kind = core::EventKind::OfficeMade;
  change.at = office.made_at;
  change.subject = office.name;
  change.records = {office};
  if (const auto written = (*unit)->write(change); !written) return written.failure();
  if (const auto ok = (*unit)->commit(); !ok) return ok.failure();
  return office;
}

}  // namespace loadlight::app
