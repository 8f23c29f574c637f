#include "web/issued_pins.h"
#include "web/pages/pages.h"

namespace loadlight::web {

Response issued_pin(Visit& visit) {
  const auto pin = visit.desk.kept<IssuedPins>().find(visit.cookie, std::chrono::steady_clock::now());
  if (!pin) return visit.go_to("/");
  return visit.page("pages/issued-pin", {{"title", visit.word("page.issued-pin.title")},
                                         {"at", "/set-up"},
                                         {"operator", pin->operator_code},
                                         {"operator_name", pin->operator_name},
                                         {"pin", pin->pin},
                                         {"noted", visit.form_for("/set-up/pin")}});
}

Response pin_noted(Visit& visit) {
  auto& pins = visit.desk.kept<IssuedPins>();
  const auto pin = pins.find(visit.cookie, std::chrono::steady_clock::now());
  pins.forget(visit.cookie);
  return pin ? visit.go_to(pin->next, pin->done, {{"code", pin->operator_code}}) : visit.go_to("/");
}

}  // namespace loadlight::web
