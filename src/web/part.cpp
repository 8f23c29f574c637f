#include "loadlight/web/part.h"

#include "serving.h"

namespace {

constexpr loadlight::web::Part kPart{&loadlight::web::start_serving};

}  // namespace

extern "C" __attribute__((visibility("default"))) const loadlight::web::Part* loadlight_web_part() {
  return &kPart;
}
