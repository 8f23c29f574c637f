// Use case: a faulty lot of indicators or pouches is called back, like a load.
#pragma once

#include <string>
#include <vector>

#include "loadlight/app/incidents.h"

namespace loadlight::app {

struct RecallLotRequest final {
  std::string operator_code;
  std::string lot;
  std::string why;
};

struct AffectedLoad final {
  core::Load load;
  int incident = 0;
};

struct LotRecall final {
  std::string lot;
  core::Instant recalled_at{};  // when it was first called back
  bool known = false;           // the office has it in its table, or a load's evidence names it
  bool added = false;           // this time something was called back that was not before
  std::vector<int> incidents;
  std::vector<AffectedLoad> loads;  // by sterilizer and run
  std::vector<Suspect> packages;    // of the incidents in their order, then those that no load has run
};

// Nothing may be released on the lot from then on. Every load whose evidence is of the lot is called back, and what
// stood on a daily test of the lot; of pouches every package that was labelled while the lot was in use: from the day
// on which it was entered to the one on which it was retired. An incident covers each row of such loads that follow
// one another in a sterilizer. Said again it adds what came since and nothing else. Of a lot that the office does not
// know nothing can be found, and it is barred for the future. BadValue (lot), ReasonMissing.
core::Result<LotRecall> recall_lot(const Ports& ports, const RecallLotRequest& request);

}  // namespace loadlight::app
