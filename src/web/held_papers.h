// PDFs that were made for a browser to print, kept in memory for a while under names that nobody can guess.
#pragma once

#include <deque>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>

namespace loadlight::web {

struct HeldPaper final {
  std::string name;  // of the file, for people
  std::string pdf;
};

// Thread-safe. The oldest go first.
class HeldPapers final {
 public:
  static constexpr std::size_t kMost = 40;
  static constexpr std::size_t kMostBytes = 64u << 20;

  // What it is to be asked for by.
  std::string keep(HeldPaper paper);
  std::optional<HeldPaper> find(std::string_view key);

 private:
  struct Place final {
    std::string key;
    HeldPaper paper;
  };
  std::mutex mutex_;
  std::deque<Place> places_;  // oldest first
  std::size_t bytes_ = 0;
};

}  // namespace loadlight::web
