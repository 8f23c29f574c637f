// A world with files and nothing else: enough for words and templates.
#pragma once

#include <memory>
#include <string>

#include "loadlight/app/world.h"
#include "loadlight/report/words.h"
#include "web/page_templates.h"

namespace loadlight::web {

class PaperWorld final {
 public:
  // The project's own templates, or those of another folder.
  explicit PaperWorld(std::string templates_folder = LOADLIGHT_SOURCE_DIR "/templates");

  const app::World& world() const { return *world_; }
  report::Words words(const std::string& language) const;

 private:
  std::unique_ptr<port::Clock> clock_;
  std::unique_ptr<port::Files> files_;
  std::unique_ptr<app::World> world_;
};

// Words of English, as the project has them.
const report::Words& english();

}  // namespace loadlight::web
