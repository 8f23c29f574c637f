// What kind of video a file is, and whether it is whole, from its bytes.
//
// Promises: the same bytes always give the same answer; a file that is cut short stays so when more of it is cut off,
// as long as its kind is still told.
#include <sstream>

#include "fuzz_input.h"
#include "vision/video_container.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight;
  using fuzz::promise;
  const std::string text{fuzz::Input{data, size}.rest()};
  std::istringstream file{text};
  const auto container = vision::container_of(file);
  if (!container) return 0;
  const bool cut = vision::is_cut_short(file, *container);
  promise(vision::container_of(file) == container, "the same file is of the same kind");
  promise(vision::is_cut_short(file, *container) == cut, "the same file is whole, or is not");
  return 0;
}
