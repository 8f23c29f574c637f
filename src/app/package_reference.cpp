#include "loadlight/app/package_reference.h"

#include <set>

#include "loadlight/core/payload.h"

namespace loadlight::app {

using core::Failure;
using core::FailureCode;
using core::Result;

Result<core::PackageId> package_id_of(const Ports& ports, std::string_view reference) {
  const core::PayloadText text = core::parse_payload(reference);
  if (const auto* label = std::get_if<core::PackageLabelText>(&text)) {
    if (ports.keyring.verifies(label->signed_part, label->authenticator)) return label->fields.package;
    return Failure{FailureCode::LabelNotAuthentic, {{"package", label->fields.package.text()}}, {}};
  }
  const auto id = core::PackageId::parse_typed(reference);
  if (!id) return Failure{FailureCode::BadPackageId, {{"given", std::string{reference.substr(0, 100)}}}, {}};
  return *id;
}

Result<std::vector<core::Package>> find_packages(const Ports& ports, const port::Unit& unit,
                                                 const std::vector<std::string>& references) {
  std::vector<core::Package> packages;
  std::set<core::PackageId> seen;
  for (const std::string& reference : references) {
    const auto id = package_id_of(ports, reference);
    if (!id) return id.failure();
    if (!seen.insert(*id).second) {
      return Failure{FailureCode::BadValue, {{"field", "package"}, {"given", id->text()}}, {}};
    }
    const auto package = unit.packages().find(*id);
    if (!package) return package.failure();
    if (!*package) return Failure{FailureCode::PackageUnknown, {{"package", id->text()}}, {}};
    packages.push_back(**package);
  }
  return packages;
}

}  // namespace loadlight::app
