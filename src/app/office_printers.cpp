// A printer is a setting: its name is "printer " and the printer's name, its value "<stock> <address>"; an empty
// value is one that was taken away. Settings of other names are the profile's.
#include "loadlight/app/office_printers.h"

#include <algorithm>

#include "app/label_run.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr std::string_view kPrefix = "printer ";
constexpr std::size_t kLongestName = 40;
constexpr std::size_t kLongestAddress = 250;

Failure bad_value(const char* field, std::string_view given) {
  return {FailureCode::BadValue, {{"field", field}, {"given", std::string{given.substr(0, 60)}}}, {}};
}

std::optional<OfficePrinter> printer_in(const core::OfficeSetting& setting) {
  const std::string_view name = setting.name;
  const auto gap = setting.value.find(' ');
  if (!name.starts_with(kPrefix) || gap == std::string::npos) return std::nullopt;
  return OfficePrinter{std::string{name.substr(kPrefix.size())}, setting.value.substr(gap + 1),
                       setting.value.substr(0, gap)};
}

bool is_control(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return byte < 0x20 || byte == 0x7f;
}

bool is_name(const std::string& name) {
  return !name.empty() && name.size() <= kLongestName && std::none_of(name.begin(), name.end(), is_control) &&
         name.front() != ' ' && name.back() != ' ';
}

// "ipp://host[:port]/path": what an address is made of is the printers' own affair, but it must be of this kind.
bool is_address(std::string_view uri) {
  const std::size_t scheme = uri.starts_with("ipps://") ? 7 : uri.starts_with("ipp://") ? 6 : 0;
  if (scheme == 0 || uri.size() > kLongestAddress) return false;
  const std::string_view host = uri.substr(scheme, uri.find('/', scheme) - scheme);
  const bool plain = std::all_of(uri.begin(), uri.end(), [](char c) { return c > 0x20 && c < 0x7f; });
  return plain && !host.empty() && host.front() != ':' && host.find('@') == std::string_view::npos;
}

// On what is loaded in it, labels for steam must be allowed.
Result<void> check_stock(const port::Unit& unit, const std::string& code) {
  const auto stock = unit.stocks().find(code);
  if (!stock) return stock.failure();
  const core::Details details{{"table", "stock"}, {"code", code}, {"stock", code}};
  if (!*stock) return Failure{FailureCode::CodeUnknown, details, {}};
  if ((**stock).retired_on) return Failure{FailureCode::CodeRetired, details, {}};
  if (goes_through_steam(**stock)) return {};
  const bool thermal = (**stock).method == core::PrintMethod::DirectThermal;
  return Failure{thermal ? FailureCode::StockDirectThermal : FailureCode::StockUnrated, details, {}};
}

Result<void> write_setting(const Act& act, const std::string& printer, std::string value) {
  const core::OfficeSetting setting{std::string{kPrefix} + printer, value, "printer", act.who.code, act.now};
  const auto written = act.write(core::EventKind::SettingChanged, setting.name, {setting},
                                 {{"value", std::move(value)}});
  if (!written) return written;
  return act.unit->commit();
}

}  // namespace

Result<std::vector<OfficePrinter>> list_printers(const Ports& ports) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto settings = (*unit)->settings().all();
  if (!settings) return settings.failure();
  std::vector<OfficePrinter> printers;
  for (const core::OfficeSetting& setting : *settings) {
    if (auto printer = printer_in(setting)) printers.push_back(std::move(*printer));
  }
  return printers;
}

Result<OfficePrinter> find_printer(const Ports& ports, std::string_view name) {
  const auto printers = list_printers(ports);
  if (!printers) return printers.failure();
  for (const OfficePrinter& printer : *printers) {
    if (printer.name == name) return printer;
  }
  return Failure{FailureCode::CodeUnknown,
                 {{"table", "printer"}, {"code", std::string{name.substr(0, kLongestName)}}},
                 {}};
}

Result<OfficePrinter> set_printer(const Ports& ports, const PrinterRequest& request) {
  const OfficePrinter& printer = request.printer;
  if (!is_name(printer.name)) return bad_value("name", printer.name);
  if (!is_address(printer.uri)) return bad_value("address", printer.uri);
  const auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  if (const auto ok = require_lead(act->who); !ok) return ok.failure();
  if (const auto ok = check_stock(*act->unit, printer.stock); !ok) return ok.failure();
  const auto written = write_setting(*act, printer.name, printer.stock + " " + printer.uri);
  if (!written) return written.failure();
  return printer;
}

Result<void> remove_printer(const Ports& ports, const std::string& operator_code, const std::string& name) {
  const auto printer = find_printer(ports, name);
  if (!printer) return printer.failure();
  const auto act = begin_act(ports, operator_code);
  if (!act) return act.failure();
  if (const auto ok = require_lead(act->who); !ok) return ok.failure();
  return write_setting(*act, printer->name, "");
}

}  // namespace loadlight::app
