// Use case: an invented office with weeks of plausible history, for trying everything without harm. Its
// tables are CSV files; its history is played through the same use cases that people use, on a clock
// turned by hand.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "loadlight/app/make_office.h"
#include "loadlight/app/office_tables.h"

namespace loadlight::app {

// A sample cycle log and how it is read.
struct DemoLog final {
  std::string name;
  std::string text;
  std::string mapping_name;
  std::string mapping;
};

struct DemoTables final {
  std::vector<std::pair<OfficeTable, std::string>> csv;  // operators first
  std::vector<DemoLog> logs;
};

// A package that shows one case of interest.
struct DemoCase final {
  std::string name;  // "clear", "expired", …
  std::string package;
  std::string payload;
  std::string load;
};

// Into an empty record. Draws labels but prints none.
core::Result<std::vector<DemoCase>> make_demo(const Ports& ports, const PrintShop& shop,
                                              const OfficeRequest& request, const DemoTables& tables);

}  // namespace loadlight::app
