#include "web/navigation.h"

#include "web/visit.h"

namespace loadlight::web {
namespace {

struct Place final {
  std::string_view path;
  std::string_view name;  // "place.<name>" in the words, and the sign beside it
};

// In the order of a day's work.
constexpr Place kPlaces[] = {{"/", "today"},       {"/pack", "pack"},       {"/loads", "loads"},
                             {"/check", "check"},  {"/shelf", "shelf"},     {"/recall", "recall"},
                             {"/records", "records"}, {"/set-up", "set-up"}};

}  // namespace

View navigation_of(const Visit& visit, const std::string& at) {
  View places = View::array();
  for (const Place& place : kPlaces) {
    places.push_back({{"path", place.path},
                      {"name", visit.word("place." + std::string{place.name})},
                      {"sign", place.name},
                      {"current", at == place.path}});
  }
  return places;
}

}  // namespace loadlight::web
