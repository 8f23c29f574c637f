#include "loadlight/app/invite_station.h"

#include "loadlight/app/act.h"

namespace loadlight::app {

core::Result<Invitation> invite_station(const World& world, const std::string& office, const Ports& ports,
                                        std::string_view operator_code) {
  const auto act = begin_act(ports, operator_code);
  if (!act) return act.failure();
  if (const auto lead = require_lead(act->who); !lead) return lead.failure();
  auto invitation = world.group.invite(office);
  if (!invitation) return invitation;
  if (const auto written = act->write(core::EventKind::StationInvited, "", {}); !written) return written.failure();
  if (const auto done = act->unit->commit(); !done) return done.failure();
  return invitation;
}

}  // namespace loadlight::app
