// ISO/IEC 18004:2015, 7.4: segments of mode, count and characters, the terminator and the pad codewords.
#include "vision/qr_text.h"

#include <algorithm>
#include <array>
#include <string_view>

#include "vision/valid_utf8.h"

namespace loadlight::vision {
namespace {

constexpr std::string_view kAlphanumeric = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

// Mode indicators (ISO/IEC 18004:2015, table 2) of what is read.
enum class Mode { Terminator = 0b0000, Numeric = 0b0001, Alphanumeric = 0b0010, Byte = 0b0100, Eci = 0b0111 };
constexpr int kModeBits = 4;

// What bytes stand for.
enum class Charset { Unsaid, Latin1, Utf8 };
constexpr unsigned kEciLatin1 = 3;
constexpr unsigned kEciUtf8 = 26;

class Bits final {
 public:
  explicit Bits(std::span<const std::uint8_t> bytes) : bytes_(bytes) {}

  std::size_t left() const { return bytes_.size() * 8 - at_; }

  // The next bits, most significant first; nothing if there are not so many.
  std::optional<unsigned> take(std::size_t count) {
    if (count > left()) return std::nullopt;
    unsigned value = 0;
    for (; count > 0; --count, ++at_) value = value << 1 | (bytes_[at_ / 8] >> (7 - at_ % 8) & 1U);
    return value;
  }

 private:
  std::span<const std::uint8_t> bytes_;
  std::size_t at_ = 0;
};

// Bits of the character count in versions 1 to 9, 10 to 26 and 27 to 40 (ISO/IEC 18004:2015, table 3).
std::size_t count_bits(Mode mode, int version) {
  const std::size_t range = version < 10 ? 0 : version < 27 ? 1 : 2;
  constexpr std::array<std::size_t, 3> kNumeric{10, 12, 14};
  constexpr std::array<std::size_t, 3> kAlphanumericBits{9, 11, 13};
  constexpr std::array<std::size_t, 3> kByte{8, 16, 16};
  switch (mode) {
    case Mode::Numeric:
      return kNumeric[range];
    case Mode::Alphanumeric:
      return kAlphanumericBits[range];
    case Mode::Byte:
      return kByte[range];
    case Mode::Terminator:
    case Mode::Eci:
      return 0;
  }
  return 0;
}

std::string utf8_of_latin1(std::string_view bytes) {
  std::string text;
  for (char c : bytes) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte >= 0x80) text += static_cast<char>(0xC0 | byte >> 6);
    text += static_cast<char>(byte < 0x80 ? byte : 0x80 | (byte & 0x3F));
  }
  return text;
}

class TextReader final {
 public:
  TextReader(std::span<const std::uint8_t> data, int version) : bits_(data), version_(version) {}

  std::optional<std::string> text() {
    while (bits_.left() >= kModeBits) {
      const auto mode = static_cast<Mode>(*bits_.take(kModeBits));
      if (mode == Mode::Terminator) break;
      if (!read_segment(mode)) return std::nullopt;
    }
    if (!end_bytes() || !ends_as_it_must() || text_.empty()) return std::nullopt;
    return text_;
  }

 private:
  bool read_segment(Mode mode) {
    if (mode == Mode::Eci) return read_assignment();
    if (mode != Mode::Numeric && mode != Mode::Alphanumeric && mode != Mode::Byte) return false;
    const auto count = bits_.take(count_bits(mode, version_));
    if (!count) return false;
    if (mode == Mode::Numeric) return read_digits(*count);
    return mode == Mode::Alphanumeric ? read_alphanumeric(*count) : read_bytes(*count);
  }

  bool read_digits(unsigned count) {
    constexpr std::array<std::size_t, 4> kBits{0, 4, 7, 10};
    constexpr std::array<unsigned, 4> kEnd{1, 10, 100, 1000};
    while (count > 0) {
      const unsigned together = std::min(count, 3U);
      const auto value = bits_.take(kBits[together]);
      if (!value || *value >= kEnd[together]) return false;
      for (unsigned place = together; place > 0; --place) {
        run_ += static_cast<char>('0' + *value / kEnd[place - 1] % 10);
      }
      count -= together;
    }
    return true;
  }

  bool read_alphanumeric(unsigned count) {
    constexpr unsigned kSet = kAlphanumeric.size();
    for (; count >= 2; count -= 2) {
      const auto pair = bits_.take(11);
      if (!pair || *pair >= kSet * kSet) return false;
      run_ += {kAlphanumeric[*pair / kSet], kAlphanumeric[*pair % kSet]};
    }
    if (count == 0) return true;
    const auto last = bits_.take(6);
    if (!last || *last >= kSet) return false;
    run_ += kAlphanumeric[*last];
    return true;
  }

  bool read_bytes(unsigned count) {
    for (; count > 0; --count) {
      const auto byte = bits_.take(8);
      if (!byte) return false;
      run_ += static_cast<char>(*byte);
    }
    return true;
  }

  // An extended channel interpretation; those that are read have numbers under 128, one byte.
  bool read_assignment() {
    const auto number = bits_.take(8);
    if (!number || (*number != kEciLatin1 && *number != kEciUtf8) || !end_bytes()) return false;
    charset_ = *number == kEciUtf8 ? Charset::Utf8 : Charset::Latin1;
    return true;
  }

  // Turns what was read under one character set into text.
  bool end_bytes() {
    const bool well_formed = charset_ != Charset::Latin1 && valid_utf8(run_) == run_;
    if (charset_ == Charset::Utf8 && !well_formed) return false;
    text_ += well_formed ? run_ : utf8_of_latin1(run_);
    run_.clear();
    return true;
  }

  // After the terminator, which the end of the symbol may cut short.
  bool ends_as_it_must() {
    if (const auto rest = bits_.take(bits_.left() % 8); rest != 0U) return false;
    constexpr std::array<unsigned, 2> kPads{0xEC, 0x11};
    for (std::size_t i = 0; bits_.left() > 0; ++i) {
      if (bits_.take(8) != kPads[i % 2]) return false;
    }
    return true;
  }

  Bits bits_;
  int version_;
  Charset charset_ = Charset::Unsaid;
  std::string run_;  // characters under `charset_`
  std::string text_;
};

}  // namespace

std::optional<std::string> text_of(std::span<const std::uint8_t> data, int version) {
  return TextReader(data, version).text();
}

}  // namespace loadlight::vision
