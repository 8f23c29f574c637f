#include "loadlight/app/print_badge.h"

#include "app/label_run.h"
#include "loadlight/core/payload.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

Result<core::Operator> bearer_of(const Act& act, const std::string& code) {
  if (code == act.who.code) return act.who;
  if (const auto lead = require_lead(act.who); !lead) return lead.failure();
  const auto found = act.unit->operators().find(code);
  if (!found) return found.failure();
  if (!*found) return Failure{FailureCode::OperatorUnknown, {{"operator", code}}, {}};
  if (!(**found).current_on(act.today)) {
    return Failure{FailureCode::OperatorNotCurrent, {{"operator", code}, {"date", act.today.iso()}}, {}};
  }
  return **found;
}

}  // namespace

Result<std::vector<label::LayoutWarning>> print_badge(const Ports& ports, const PrintShop& shop,
                                                      const BadgeRequest& request) {
  const auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  const auto bearer = bearer_of(*act, request.of);
  if (!bearer) return bearer.failure();
  const auto setting = settle_paper(*act->unit, shop, request.paper, label::Subject::Badge, false);
  if (!setting) return setting.failure();
  label::LabelContent content;
  content.values = {{label::Field::Operator, bearer->code},
                    {label::Field::OperatorName, bearer->name},
                    {label::Field::Office, act->office.name}};
  content.payload = core::unsigned_badge(bearer->code);
  content.payload += ports.keyring.mac(content.payload);
  const auto drawn = draw(shop, *setting, {std::move(content)}, act->now);
  if (!drawn) return drawn.failure();
  if (const auto ok = shop.files.write(request.paper.out, drawn->pdf); !ok) return ok.failure();
  return drawn->warnings;
}

}  // namespace loadlight::app
