// A print shop whose PDF stays in memory: for a page that hands it to a browser or a printer.
#pragma once

#include <string>

#include "loadlight/app/ports.h"

namespace loadlight::app {

class PaperInHand final : private port::Files {
 public:
  explicit PaperInHand(const PrintShop& shop)
      : shop_{shop.encoder, shop.gauge, shop.press, *this, shop.words, shop.find_template} {}
  PaperInHand(const PaperInHand&) = delete;
  PaperInHand& operator=(const PaperInHand&) = delete;

  // For one printing; its path is not looked at.
  const PrintShop& shop() const { return shop_; }
  // What was printed; empty when nothing was.
  const std::string& pdf() const { return pdf_; }

 private:
  core::Result<std::string> read(const std::string& path, std::size_t) const override {
    return core::Failure{core::FailureCode::FileUnreadable, {{"path", path}, {"why", "absent"}}, {}};
  }
  core::Result<void> each_chunk(const std::string& path,
                                const std::function<bool(const Chunk&)>&) const override {
    return core::Failure{core::FailureCode::FileUnreadable, {{"path", path}, {"why", "absent"}}, {}};
  }
  core::Result<void> write(const std::string&, std::string_view bytes) const override {
    pdf_ = bytes;
    return {};
  }

  PrintShop shop_;
  mutable std::string pdf_;
};

}  // namespace loadlight::app
