// Use cases: the first run. An office is made with whoever leads it and its first tables, or nothing is made at
// all; or the demo office, for trying everything without harm.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "loadlight/app/make_demo.h"
#include "loadlight/app/make_office.h"
#include "loadlight/app/office_tables.h"
#include "loadlight/app/world.h"

namespace loadlight::app {

struct FirstRunRequest final {
  OfficeRequest office;
  Row lead;         // of the table of operators: whoever begins; empty: nobody yet, and no entries
  std::string pin;  // the lead's: empty: one is issued; else as chosen (PinRequest)
  std::vector<std::pair<OfficeTable, Row>> entries;
};
struct FirstRun final {
  OfficeLeaves leaves;
  core::Office office;
  core::Operator lead;
  std::string pin;  // kept nowhere
};
// OfficeExists, ZoneUnknown, PinTooWeak and whatever the tables say. Nothing is left of a failed one.
core::Result<FirstRun> begin_office(const World& world, const std::string& folder,
                                    const FirstRunRequest& request);

struct DemoOffice final {
  OfficeLeaves leaves;
  std::vector<DemoCase> cases;
};
// Likewise.
core::Result<DemoOffice> begin_demo(const World& world, const std::string& folder, const PrintShop& shop,
                                    const OfficeRequest& request);

// Who leads first in an office that has nobody yet, such as one made by command: OfficeExists when there is
// somebody.
core::Result<FirstRun> begin_work(const Ports& ports, port::PinBook& pins, const FirstRunRequest& request);

}  // namespace loadlight::app
