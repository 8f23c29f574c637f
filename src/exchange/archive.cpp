#include "loadlight/exchange/archive.h"

#include <algorithm>
#include <cstdint>

namespace loadlight::exchange {
namespace {

constexpr std::size_t kBlock = 512;  // bytes
constexpr std::size_t kLongestPath = 100;

// Where a header's fields lie: first byte and length (POSIX.1-1988, 10.1.1).
struct Place final {
  std::size_t first;
  std::size_t length;
};
constexpr Place kName{0, 100}, kMode{100, 8}, kOwner{108, 8}, kGroup{116, 8}, kSize{124, 12}, kTime{136, 12},
    kSum{148, 8}, kType{156, 1}, kMagic{257, 8};

void put(std::string& header, Place place, const std::string& text) {
  header.replace(place.first, text.size(), text);
}

// Octal digits, as many as fit with a NUL behind them.
void put_number(std::string& header, Place place, std::uint64_t number) {
  std::string digits(place.length - 1, '0');
  for (std::size_t i = digits.size(); i > 0 && number > 0; number >>= 3) {
    digits[--i] = static_cast<char>('0' + (number & 7));
  }
  put(header, place, digits);
}

std::string header_of(const ArchivedFile& file, core::Instant made) {
  std::string header(kBlock, '\0');
  put(header, kName, file.path);
  put_number(header, kMode, 0600);
  put_number(header, kOwner, 0);
  put_number(header, kGroup, 0);
  put_number(header, kSize, file.bytes.size());
  put_number(header, kTime, static_cast<std::uint64_t>(std::max<std::int64_t>(0, core::to_milliseconds(made) / 1000)));
  put(header, kSum, std::string(kSum.length, ' '));  // the sum is made with blanks in its place
  put(header, kType, "0");
  put(header, kMagic, std::string{"ustar\00000", 8});
  std::uint64_t sum = 0;
  for (const char byte : header) sum += static_cast<unsigned char>(byte);
  put_number(header, {kSum.first, kSum.length - 1}, sum);
  header[kSum.first + 6] = '\0';
  header[kSum.first + 7] = ' ';
  return header;
}

bool fits(const std::string& path) {
  return !path.empty() && path.size() <= kLongestPath && path.front() != '/' &&
         std::all_of(path.begin(), path.end(), [](char c) { return c > ' ' && c < '\x7f'; });
}

}  // namespace

core::Result<std::string> make_archive(const std::vector<ArchivedFile>& files, core::Instant made) {
  std::string archive;
  for (const ArchivedFile& file : files) {
    if (!fits(file.path)) {
      return core::Failure{core::FailureCode::BadValue, {{"field", "path"}, {"given", file.path.substr(0, 80)}}, {}};
    }
    archive += header_of(file, made);
    archive += file.bytes;
    archive.append((kBlock - file.bytes.size() % kBlock) % kBlock, '\0');
  }
  return archive.append(2 * kBlock, '\0');
}

}  // namespace loadlight::exchange
