// QR symbols by libqrencode.
#include <qrencode.h>

#include <algorithm>
#include <exception>
#include <memory>

#include "loadlight/render/render.h"
#include "render/symbol_mask.h"

namespace loadlight::render {
namespace {

using core::Failure;
using core::FailureCode;

struct FreeInput final {
  void operator()(QRinput* input) const { QRinput_free(input); }
};
struct FreeCode final {
  void operator()(QRcode* code) const { QRcode_free(code); }
};

// Bits of a module in libqrencode's grid (qrencode.h).
constexpr unsigned char kDark = 0x01;
constexpr unsigned char kNotData = 0x80;

QRecLevel level_of(core::ErrorCorrection level) {
  switch (level) {
    case core::ErrorCorrection::L:
      return QR_ECLEVEL_L;
    case core::ErrorCorrection::M:
      return QR_ECLEVEL_M;
    case core::ErrorCorrection::Q:
      return QR_ECLEVEL_Q;
    case core::ErrorCorrection::H:
      return QR_ECLEVEL_H;
  }
  return QR_ECLEVEL_H;
}

bool is_alphanumeric(char c) {
  constexpr std::string_view kSet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";
  return kSet.find(c) != std::string_view::npos;
}

Failure does_not_fit(std::string_view text, int version, core::ErrorCorrection level) {
  return {FailureCode::SymbolDoesNotFit,
          {{"characters", std::to_string(text.size())},
           {"version", std::to_string(version)},
           {"level", std::string{core::to_text(level)}}},
          {}};
}

// Null when libqrencode refuses; one alphanumeric segment, so that the capacity is the standard's.
std::unique_ptr<QRcode, FreeCode> encode_alphanumeric(std::string_view text, int version,
                                                      core::ErrorCorrection level) {
  const std::unique_ptr<QRinput, FreeInput> input{QRinput_new2(version, level_of(level))};
  if (!input) return nullptr;
  const auto* bytes = reinterpret_cast<const unsigned char*>(text.data());
  if (QRinput_append(input.get(), QR_MODE_AN, static_cast<int>(text.size()), bytes) != 0) return nullptr;
  return std::unique_ptr<QRcode, FreeCode>{QRcode_encodeInput(input.get())};
}

core::SymbolGrid grid_of(const QRcode& code, int version, core::ErrorCorrection level,
                         std::optional<int> mask) {
  const auto count = static_cast<std::size_t>(code.width) * static_cast<std::size_t>(code.width);
  core::SymbolGrid grid{{version, level, 0}, std::vector<std::uint8_t>(count)};
  std::vector<bool> is_data(count);
  for (std::size_t i = 0; i < count; ++i) {
    grid.modules[i] = code.data[i] & kDark;
    is_data[i] = (code.data[i] & kNotData) == 0;
  }
  grid.form.mask = mask_written_in(grid);
  if (mask && *mask != grid.form.mask) change_mask(grid, is_data, *mask);
  return grid;
}

class QrencodeEncoder final : public port::SymbolEncoder {
 public:
  core::Result<core::SymbolGrid> encode(std::string_view text, int version, core::ErrorCorrection level,
                                        std::optional<int> mask) const override {
    try {
      return checked_encode(text, version, level, mask);
    } catch (const std::exception& error) {
      return Failure{FailureCode::Internal, {{"what", error.what()}}, {}};
    }
  }

 private:
  static core::Result<core::SymbolGrid> checked_encode(std::string_view text, int version,
                                                       core::ErrorCorrection level, std::optional<int> mask) {
    if (text.empty() || !std::all_of(text.begin(), text.end(), is_alphanumeric)) {
      return Failure{FailureCode::BadValue, {{"field", "symbol"}}, {}};
    }
    if (version < 1 || version > 40) return Failure{FailureCode::BadValue, {{"field", "version"}}, {}};
    if (mask && (*mask < 0 || *mask > 7)) return Failure{FailureCode::BadValue, {{"field", "mask"}}, {}};
    const auto code = text.size() > 4296 ? nullptr : encode_alphanumeric(text, version, level);
    // libqrencode goes up to a larger version rather than refuse.
    if (!code || code->version != version) return does_not_fit(text, version, level);
    return grid_of(*code, version, level, mask);
  }
};

}  // namespace

std::unique_ptr<port::SymbolEncoder> make_symbol_encoder() {
  return std::make_unique<QrencodeEncoder>();
}

}  // namespace loadlight::render
