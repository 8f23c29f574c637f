// Use case: finds packages and loads by whatever a person knows of them: an id or part of it, a label's text,
// a load's name, an operator, contents, a visit reference, a day or a span of days.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/ports.h"

namespace loadlight::app {

// By what a group was found, in the order in which groups are given.
enum class FoundBy {
  Package,       // the id itself
  Load,          // the load's name, its number alone, or its sterilizer
  Visit,         // opened for this reference
  IdPart,        // these characters stand in the id
  Contents,      // of contents of this code or name
  Operator,      // labelled by this person
  Decider,       // decided by this person
  PackageDays,   // their process date lies in the span
  LoadDays,      // started in the span
};

struct RecordsRequest final {
  std::string text;  // one of the above; blanks around it do not count
  std::optional<core::CivilDate> first;  // both narrow every group but an id's and a name's own
  std::optional<core::CivilDate> last;
  // A further page of one group alone, as the group names itself.
  std::optional<FoundBy> only;
  std::string only_of;
  int skip = 0;
};

struct FoundGroup final {
  FoundBy by = FoundBy::Package;
  std::string of;    // the code that was meant, where the text named one: contents, an operator, a sterilizer
  std::string name;  // its name
  std::vector<core::Package> packages;  // one of these is empty
  std::vector<core::Load> loads;
  int skip = 0;
  bool more = false;  // there are further ones
};

struct RecordsReply final {
  std::vector<FoundGroup> groups;  // none of them empty
  bool too_many_names = false;     // more contents or operators fit the text than were searched
};

inline constexpr int kFoundAtOnce = 25;

// BadValue (detail: field) for days in the wrong order.
core::Result<RecordsReply> search_records(const Ports& ports, const port::Unit& unit,
                                          const RecordsRequest& request);

}  // namespace loadlight::app

namespace loadlight::core {

template <>
struct Vocabulary<app::FoundBy> {
  static constexpr Term<app::FoundBy> kTerms[] = {
      {app::FoundBy::Package, "package"},   {app::FoundBy::Load, "load"},
      {app::FoundBy::Visit, "visit"},       {app::FoundBy::IdPart, "id-part"},
      {app::FoundBy::Contents, "contents"}, {app::FoundBy::Operator, "operator"},
      {app::FoundBy::Decider, "decider"},   {app::FoundBy::PackageDays, "package-days"},
      {app::FoundBy::LoadDays, "load-days"}};
};

}  // namespace loadlight::core
