// What reads in the bench: ours and its peers, each timed by the processor time it takes.
#pragma once

#include <array>
#include <span>
#include <string>
#include <vector>

#include "loadlight/port/symbol_reader.h"

namespace loadlight::bench {

enum class Who { Ours, Zxing, Zbar };
inline constexpr std::array<Who, 3> kEverybody{Who::Ours, Who::Zxing, Who::Zbar};
const char* name_of(Who who);

struct Reading final {
  std::vector<std::string> texts;
  double seconds = 0;  // of processor time
};

// Processor time of the whole program so far, seconds.
double program_seconds();

// One picture or several shots of one scene, on the calling thread alone. Peers read shot by shot.
Reading read_with(Who who, std::span<const port::GrayView> shots);

// A whole frame as the program would read it, ours on two threads; only for one caller at a time.
Reading read_frame_with(Who who, port::GrayView frame);

const port::SymbolReader& our_reader();

}  // namespace loadlight::bench
