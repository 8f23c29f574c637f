// Use cases: the label printers that the office speaks to directly, kept as settings of the office.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "loadlight/app/ports.h"
#include "loadlight/port/printer.h"

namespace loadlight::app {

struct OfficePrinter final {
  std::string name;   // 1-40 printable characters, one of its kind
  std::string uri;    // ipp:// or ipps://, a host, no user's name in it
  std::string stock;  // what is loaded in it: a code of the table of stocks

  port::PrinterAddress address() const { return {name, uri}; }
};

// By name.
core::Result<std::vector<OfficePrinter>> list_printers(const Ports& ports);
// CodeUnknown (table "printer").
core::Result<OfficePrinter> find_printer(const Ports& ports, std::string_view name);

struct PrinterRequest final {
  std::string operator_code;  // a lead
  OfficePrinter printer;
};
// In place of the one of the same name, if there is one. BadValue (field name or address), and what is said of a
// stock that labels are not printed on: CodeUnknown, CodeRetired, StockDirectThermal, StockUnrated.
core::Result<OfficePrinter> set_printer(const Ports& ports, const PrinterRequest& request);
core::Result<void> remove_printer(const Ports& ports, const std::string& operator_code, const std::string& name);

}  // namespace loadlight::app
