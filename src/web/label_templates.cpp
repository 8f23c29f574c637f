#include "web/label_templates.h"

#include <algorithm>
#include <filesystem>

#include "loadlight/app/open_office.h"

namespace loadlight::web {

std::vector<label::LabelTemplate> label_templates(const app::World& world, label::Subject subject) {
  std::vector<label::LabelTemplate> templates;
  std::error_code error;
  const std::filesystem::path folder{world.templates_folder + "/labels"};
  for (std::filesystem::directory_iterator entry{folder, error}, end; !error && entry != end;
       entry.increment(error)) {
    if (entry->path().extension() != ".label") continue;
    auto found = app::find_template(world, entry->path().stem().string());
    if (found && found->subject == subject) templates.push_back(std::move(*found));
  }
  std::sort(templates.begin(), templates.end(),
            [](const auto& a, const auto& b) { return a.name < b.name; });
  return templates;
}

}  // namespace loadlight::web
