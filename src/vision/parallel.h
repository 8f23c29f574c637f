// The same work on many things at once.
#pragma once

#include <cstddef>
#include <functional>

namespace loadlight::vision {

// Calls work(0) to work(count - 1), each once, on at most `threads` threads, this one among them; returns when
// all are done. What work throws is thrown here, the first of it, after the others have ended.
void in_parallel(std::size_t count, int threads, const std::function<void(std::size_t)>& work);

}  // namespace loadlight::vision
