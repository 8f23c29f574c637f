// Places that looked like symbols and were not read, and which packages they are after all.
#pragma once

#include <string>
#include <vector>

#include "app/seen_labels.h"

namespace loadlight::app {

// Keeps them until the sweep is over, when it is known which packages were read: those cannot be what is
// lost.
class LostPlaces final {
 public:
  // Memory is bounded: further ones are counted.
  static constexpr std::size_t kMostKept = 300;
  static constexpr std::size_t kMostPixels = 64'000'000;

  void add(port::LostPlace place, const std::string& location);
  // What a picture of its own showed and was not read.
  void add(const port::Frame& frame, const std::vector<port::Corners>& unread, const std::string& location);

  // Identifies what it can among the packages of `places` in the unit: those expected there, and those seen,
  // whose label may have been passed twice. A package told so becomes a label of `seen`, or one more sighting
  // of it. What is left are pictures for a person to look at.
  core::Result<std::vector<UnreadableSymbol>> tell(const port::Unit& unit, const AuditEyes& eyes,
                                                   const std::vector<std::string>& places, SeenLabels& seen);
  int beyond() const { return beyond_; }

 private:
  struct Kept final {
    port::LostPlace place;
    std::string location;
  };

  std::vector<Kept> kept_;
  std::size_t pixels_ = 0;
  int beyond_ = 0;
};

}  // namespace loadlight::app
