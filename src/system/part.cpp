#include "loadlight/system/part.h"

#include <dlfcn.h>

namespace loadlight::system {
namespace {

core::Failure unavailable(const std::string& path) {
  const char* why = ::dlerror();
  return {core::FailureCode::PartUnavailable, {{"part", path}, {"why", why != nullptr ? why : ""}}, {}};
}

}  // namespace

core::Result<void*> load_part(const std::string& path, const std::string& entry) {
  void* part = ::dlopen(path.c_str(), RTLD_NOW | RTLD_LOCAL);
  if (part == nullptr) return unavailable(path);
  void* address = ::dlsym(part, entry.c_str());
  if (address == nullptr) return unavailable(path);
  return address;
}

}  // namespace loadlight::system
