#include "web/mapping_names.h"

#include <filesystem>
#include <set>

namespace loadlight::web {

View mapping_names(const std::string& templates_folder) {
  std::set<std::string> names;
  std::error_code error;
  for (std::filesystem::directory_iterator entry{templates_folder + "/mappings", error}, end;
       !error && entry != end; entry.increment(error)) {
    if (entry->path().extension() == ".mapping") names.insert(entry->path().stem().string());
  }
  View list = View::array();
  for (const std::string& name : names) list.push_back({{"name", name}});
  return list;
}

}  // namespace loadlight::web
