// Names of one export alone: the same for the same thing within it, and unlike those of every other export.
#pragma once

#include <string>
#include <string_view>

#include "app/export_fields.h"
#include "loadlight/port/keyring.h"

namespace loadlight::app {

class ExportPseudonyms final {
 public:
  // Drawn at random, kept nowhere: once the export is made not even the office can tell whose name is whose.
  explicit ExportPseudonyms(const port::Keyring& keyring);

  // Empty for an empty text. A program of the published table keeps its name: it tells of nobody.
  std::string of(Alias alias, const std::string& text) const;

 private:
  const port::Keyring* keyring_;
  std::string salt_;
};

}  // namespace loadlight::app
