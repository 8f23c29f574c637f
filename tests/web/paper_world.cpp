#include "web/paper_world.h"

#include <catch2/catch.hpp>

#include "loadlight/app/open_office.h"
#include "loadlight/system/clock.h"
#include "loadlight/system/files.h"

namespace loadlight::web {

// Whatever else a world has stays empty, however many members it has.
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wmissing-field-initializers"
PaperWorld::PaperWorld(std::string templates_folder)
    : clock_(system::make_system_clock()),
      files_(system::make_files()),
      world_(new app::World{.clock = *clock_, .files = *files_}) {
  world_->templates_folder = std::move(templates_folder);
}
#pragma GCC diagnostic pop

report::Words PaperWorld::words(const std::string& language) const {
  auto words = app::load_words(*world_, language);
  REQUIRE(words);
  return std::move(*words);
}

const report::Words& english() {
  static const report::Words words = PaperWorld{}.words("en");
  return words;
}

}  // namespace loadlight::web
