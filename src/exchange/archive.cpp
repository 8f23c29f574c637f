#include "loadlight/exchange/archive.h"

#include <algorithm>
#include <cstdint>
#include <optional>

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
    kSum{148, 8}, kType{156, 1}, kMagic{257, 8}, kPrefix{345, 155};

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

std::string header_of(std::string_view path, std::uint64_t size, core::Instant made) {
  std::string header(kBlock, '\0');
  put(header, kName, std::string{path});
  put_number(header, kMode, 0600);
  put_number(header, kOwner, 0);
  put_number(header, kGroup, 0);
  put_number(header, kSize, size);
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

bool fits(std::string_view path) {
  return !path.empty() && path.size() <= kLongestPath && path.front() != '/' &&
         std::all_of(path.begin(), path.end(), [](char c) { return c > ' ' && c < '\x7f'; });
}

core::Failure unreadable(const char* why) {
  return {core::FailureCode::BackupUnreadable, {{"why", why}}, {}};
}

std::string_view text_in(std::string_view header, Place place) {
  const std::string_view field = header.substr(place.first, place.length);
  return field.substr(0, field.find('\0'));
}

// Octal digits, between blanks and NULs; nothing for anything else.
std::optional<std::uint64_t> number_in(std::string_view header, Place place) {
  std::string_view digits = text_in(header, place);
  while (!digits.empty() && digits.front() == ' ') digits.remove_prefix(1);
  while (!digits.empty() && digits.back() == ' ') digits.remove_suffix(1);
  if (digits.empty() || digits.find_first_not_of("01234567") != std::string_view::npos) return std::nullopt;
  std::uint64_t number = 0;
  for (const char digit : digits) number = number * 8 + static_cast<std::uint64_t>(digit - '0');
  return number;
}

std::uint64_t sum_of(std::string header) {
  put(header, kSum, std::string(kSum.length, ' '));
  std::uint64_t sum = 0;
  for (const char byte : header) sum += static_cast<unsigned char>(byte);
  return sum;
}

std::string_view without_dot(std::string_view name) {
  return name.starts_with("./") ? name.substr(2) : name;
}

}  // namespace

core::Result<std::string> archive_header(std::string_view path, std::uint64_t size, core::Instant made) {
  if (fits(path)) return header_of(path, size, made);
  return core::Failure{core::FailureCode::BadValue, {{"field", "path"}, {"given", std::string{path.substr(0, 80)}}}, {}};
}

std::string archive_padding(std::uint64_t size) {
  return std::string(static_cast<std::size_t>((kBlock - size % kBlock) % kBlock), '\0');
}

std::string archive_end() {
  return std::string(2 * kBlock, '\0');
}

core::Result<std::string> make_archive(const std::vector<ArchivedFile>& files, core::Instant made) {
  std::string archive;
  for (const ArchivedFile& file : files) {
    const auto header = archive_header(file.path, file.bytes.size(), made);
    if (!header) return header.failure();
    archive += *header + file.bytes + archive_padding(file.bytes.size());
  }
  return archive + archive_end();
}

core::Result<void> ArchiveReader::feed(std::string_view bytes) {
  while (!bytes.empty() && !ended_) {
    if (left_ > 0) {
      const auto taken = bytes.substr(0, static_cast<std::size_t>(std::min<std::uint64_t>(left_, bytes.size())));
      if (const auto ok = takes_(taken); !ok) return ok;
      left_ -= taken.size();
      bytes.remove_prefix(taken.size());
    } else if (padding_ > 0) {
      const std::uint64_t skipped = std::min<std::uint64_t>(padding_, bytes.size());
      padding_ -= skipped;
      bytes.remove_prefix(static_cast<std::size_t>(skipped));
    } else {
      const std::size_t wanted = std::min(kBlock - block_.size(), bytes.size());
      block_.append(bytes.substr(0, wanted));
      bytes.remove_prefix(wanted);
      if (block_.size() < kBlock) continue;
      if (const auto ok = read_header(); !ok) return ok;
      block_.clear();
    }
  }
  return {};
}

core::Result<void> ArchiveReader::read_header() {
  if (block_.find_first_not_of('\0') == std::string::npos) {
    ended_ = true;
    return {};
  }
  const auto size = number_in(block_, kSize);
  const auto sum = number_in(block_, kSum);
  if (!size || !sum || *sum != sum_of(block_) || !text_in(block_, kMagic).starts_with("ustar")) {
    return unreadable("malformed");
  }
  const char type = block_[kType.first];
  const std::string name{without_dot(text_in(block_, kName))};
  if (type == '5' && *size == 0 && name.empty()) return {};  // the folder that was packed
  if ((type != '0' && type != '\0') || !text_in(block_, kPrefix).empty()) return unreadable("not-a-file");
  left_ = *size;
  padding_ = (kBlock - *size % kBlock) % kBlock;
  return begins_(name, *size);
}

core::Result<void> ArchiveReader::finish() const {
  if (ended_ && left_ == 0) return {};
  return unreadable("cut-short");
}

}  // namespace loadlight::exchange
