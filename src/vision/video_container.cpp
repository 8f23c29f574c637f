#include "vision/video_container.h"

#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>

namespace loadlight::vision {
namespace {

using std::string_view_literals::operator""sv;

struct Mark final {
  std::size_t at;  // bytes from the beginning
  std::string_view bytes;
  Container container;
};

// ISO/IEC 14496-12 (MP4, MOV, 3GP), RIFF (AVI), EBML (Matroska, WebM), ASF, FLV, Ogg, MPEG program streams;
// the numbers from memory, held to files that a writer of its own makes in the tests for the first three.
constexpr std::array kMarks{
    Mark{4, "ftyp"sv, Container::Iso},
    Mark{4, "moov"sv, Container::Iso},
    Mark{4, "mdat"sv, Container::Iso},
    Mark{4, "wide"sv, Container::Iso},
    Mark{4, "free"sv, Container::Iso},
    Mark{4, "skip"sv, Container::Iso},
    Mark{8, "AVI "sv, Container::Avi},
    Mark{0, "\x1a\x45\xdf\xa3"sv, Container::Matroska},
    Mark{0, "\x30\x26\xb2\x75\x8e\x66\xcf\x11"sv, Container::Other},
    Mark{0, "FLV\x01"sv, Container::Other},
    Mark{0, "OggS"sv, Container::Other},
    Mark{0, "\x00\x00\x01\xba"sv, Container::Other},
};

// Transport streams have no name: a packet begins with G, and so does the next.
constexpr std::size_t kPacket = 188;

std::string bytes_at(std::istream& file, std::uint64_t at, std::size_t count) {
  std::string bytes(count, '\0');
  file.clear();
  file.seekg(static_cast<std::streamoff>(at));
  file.read(bytes.data(), static_cast<std::streamsize>(count));
  bytes.resize(static_cast<std::size_t>(std::max<std::streamsize>(0, file.gcount())));
  return bytes;
}

std::uint64_t length_of(std::istream& file) {
  file.clear();
  file.seekg(0, std::ios::end);
  return static_cast<std::uint64_t>(file.tellg());
}

std::uint64_t big_endian(std::string_view bytes) {
  std::uint64_t value = 0;
  for (const char byte : bytes) value = value << 8 | static_cast<unsigned char>(byte);
  return value;
}

std::uint64_t little_endian(std::string_view bytes) {
  return big_endian(std::string{bytes.rbegin(), bytes.rend()});
}

bool is_transport_stream(const std::string& head) {
  const auto begins = [&](std::size_t at) {
    return head.size() > at + kPacket && head[at] == 'G' && head[at + kPacket] == 'G';
  };
  return begins(0) || (head.size() > kPacket + 8 && head[4] == 'G' && head[kPacket + 8] == 'G');
}

// Boxes: a length of 32 bits, the whole box included, and a type; 1 stands for a length of 64 bits after the
// type, 0 for the rest of the file. Without a `moov` nothing tells where the frames lie.
bool is_cut_iso(std::istream& file) {
  const std::uint64_t end = length_of(file);
  bool has_index = false;
  for (std::uint64_t at = 0; at + 8 <= end;) {
    const auto head = bytes_at(file, at, 16);
    has_index = has_index || head.compare(4, 4, "moov") == 0;
    std::uint64_t length = big_endian(std::string_view{head}.substr(0, 4));
    if (length == 1 && head.size() == 16) length = big_endian(std::string_view{head}.substr(8));
    if (length == 0) break;
    if (length < 8 || length > end - at) return true;
    at += length;
  }
  return !has_index;
}

// RIFF chunks one after another: name and length, which counts what follows it. A recorder that was not shut
// down leaves the length 0.
bool is_cut_avi(std::istream& file) {
  const std::uint64_t end = length_of(file);
  for (std::uint64_t at = 0; at + 8 <= end;) {
    const auto head = bytes_at(file, at, 8);
    if (head.compare(0, 4, "RIFF") != 0) return false;
    const std::uint64_t length = little_endian(std::string_view{head}.substr(4, 4));
    if (length == 0 || length + 8 > end - at) return true;
    at += 8 + length + length % 2;
  }
  return false;
}

struct Size final {
  std::uint64_t value = 0;
  std::size_t bytes = 0;  // that it is written in; 0: there is none
  bool known = false;
};

// RFC 8794: as many leading zeros as further bytes; all ones is "not known".
Size variable_size(std::string_view bytes) {
  if (bytes.empty() || bytes[0] == 0) return {};
  Size size;
  const auto first = static_cast<unsigned char>(bytes[0]);
  while ((first << size.bytes & 0x80) == 0) ++size.bytes;
  ++size.bytes;
  if (bytes.size() < size.bytes) return {};
  const std::uint64_t most = (std::uint64_t{1} << (7 * size.bytes)) - 1;
  size.value = big_endian(bytes.substr(0, size.bytes)) & most;
  size.known = size.value != most;
  return size;
}

// The EBML head, then the segment that holds everything.
bool is_cut_matroska(std::istream& file) {
  const auto head = bytes_at(file, 4, 8);
  const Size skipped = variable_size(head);
  if (skipped.bytes == 0 || !skipped.known) return false;
  const std::uint64_t at = 4 + skipped.bytes + skipped.value;
  const auto segment = bytes_at(file, at, 12);
  const Size size = variable_size(std::string_view{segment}.substr(std::min<std::size_t>(4, segment.size())));
  return size.bytes == 0 || (size.known && at + 4 + size.bytes + size.value > length_of(file));
}

}  // namespace

std::optional<Container> container_of(std::istream& file) {
  const auto head = bytes_at(file, 0, 2 * kPacket + 8);
  for (const Mark& mark : kMarks) {
    if (head.compare(std::min(mark.at, head.size()), mark.bytes.size(), mark.bytes) == 0)
      return mark.container;
  }
  if (is_transport_stream(head)) return Container::Other;
  return std::nullopt;
}

bool is_cut_short(std::istream& file, Container container) {
  switch (container) {
    case Container::Iso:
      return is_cut_iso(file);
    case Container::Avi:
      return is_cut_avi(file);
    case Container::Matroska:
      return is_cut_matroska(file);
    case Container::Other:
      return false;
  }
  return false;
}

}  // namespace loadlight::vision
