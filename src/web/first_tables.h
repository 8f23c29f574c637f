// What a new office is offered as its first tables: examples that can be changed or left out.
#pragma once

#include <string>
#include <vector>

#include "loadlight/app/office_tables.h"
#include "web/visit.h"

namespace loadlight::web {

struct FirstTable final {
  app::OfficeTable table;
  std::string_view name;  // "sterilizer-1": its fields begin with it and a dot; its tick has it as its name
  bool needed;            // for the first label
};

std::span<const FirstTable> first_tables();

// The example, with names in the visitor's language.
app::Row example_of(const Visit& visit, const FirstTable& first);

}  // namespace loadlight::web
