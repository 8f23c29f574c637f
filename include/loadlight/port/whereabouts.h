// Whether a record is the one that its office works on.
#pragma once

#include <string>

#include "loadlight/core/vocabulary.h"

namespace loadlight::port {

// Here: people work on it. Moved: the office works on another, this one takes no more changes. Arriving: a move to it
// has not come to its end.
enum class Standing { Here, Moved, Arriving };

struct Whereabouts final {
  Standing state = Standing::Here;
  std::string place{};  // as people name it: where it moved to, or arrives from

  friend bool operator==(const Whereabouts&, const Whereabouts&) = default;
};

}  // namespace loadlight::port

template <>
struct loadlight::core::Vocabulary<loadlight::port::Standing> {
  static constexpr Term<port::Standing> kTerms[] = {{port::Standing::Here, "here"},
                                                    {port::Standing::Moved, "moved"},
                                                    {port::Standing::Arriving, "arriving"}};
};
