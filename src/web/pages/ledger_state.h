// What is known of the ledger's wholeness, for the page of records.
#pragma once

#include "loadlight/app/open_office.h"
#include "web/visit.h"

namespace loadlight::web {

// For parts/ledger.
View ledger_view(const Visit& visit, const app::OpenOffice& office);

}  // namespace loadlight::web
