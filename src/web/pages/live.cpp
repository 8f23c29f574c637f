#include "web/pages/pages.h"

namespace loadlight::web {

Response live(Visit& visit) {
  Response response;
  response.events = visit.desk.news().subscribe();
  return response;
}

}  // namespace loadlight::web
