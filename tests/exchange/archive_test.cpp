#include "loadlight/exchange/archive.h"

#include <catch2/catch.hpp>

using namespace loadlight;

namespace {

const core::Instant kMade = core::instant_from(1764079387000);

std::string must_make(const std::vector<exchange::ArchivedFile>& files) {
  auto made = exchange::make_archive(files, kMade);
  REQUIRE(made);
  return *made;
}

}  // namespace

// The header's fields as POSIX.1-1988 places them; that other programs unpack it is tested from outside.
TEST_CASE("Each file is a header and whole blocks, and two empty blocks end the archive") {
  const std::string archive = must_make({{"keys.json", "12345"}, {"empty", ""}});
  REQUIRE(archive.size() == 512 * 5);
  CHECK(archive.substr(0, 10) == std::string{"keys.json\0", 10});
  CHECK(archive.substr(100, 8) == std::string{"0000600\0", 8});
  CHECK(archive.substr(124, 12) == std::string{"00000000005\0", 12});
  CHECK(archive.substr(257, 8) == std::string{"ustar\00000", 8});
  CHECK(archive.substr(512, 6) == std::string{"12345\0", 6});
  CHECK(archive.substr(1024, 6) == std::string{"empty\0", 6});
  CHECK(archive.find_first_not_of('\0', 1536) == std::string::npos);
}

TEST_CASE("A header's sum counts its bytes with blanks in the sum's place") {
  std::string header = must_make({{"a", "b"}}).substr(0, 512);
  const unsigned long told = std::stoul(header.substr(148, 6), nullptr, 8);
  header.replace(148, 8, std::string(8, ' '));
  unsigned long sum = 0;
  for (const char byte : header) sum += static_cast<unsigned char>(byte);
  CHECK(told == sum);
}

TEST_CASE("A file that fills its block has no other behind it") {
  CHECK(must_make({{"a", std::string(512, 'x')}}).size() == 512 * 4);
  CHECK(must_make({{"a", std::string(513, 'x')}}).size() == 512 * 5);
}

TEST_CASE("A path that does not fit is refused") {
  for (const std::string& path : {std::string{}, std::string{"/etc/x"}, std::string(101, 'a'), std::string{"a b"},
                                  std::string{"é"}}) {
    CAPTURE(path);
    CHECK_FALSE(exchange::make_archive({{path, ""}}, kMade));
  }
}

namespace {

// What a reader makes of an archive that comes in pieces of this size: "name=bytes;" for each file, or why not.
std::string read_back(const std::string& archive, std::size_t piece) {
  std::string told;
  exchange::ArchiveReader reader{[&](const std::string& name, std::uint64_t size) -> core::Result<void> {
                                   told += "(" + name + " " + std::to_string(size) + ")";
                                   return {};
                                 },
                                 [&](std::string_view bytes) -> core::Result<void> {
                                   told += bytes;
                                   return {};
                                 }};
  for (std::size_t at = 0; at < archive.size(); at += piece) {
    if (const auto fed = reader.feed(std::string_view{archive}.substr(at, piece)); !fed) return fed.failure().details[0].second;
  }
  const auto ended = reader.finish();
  return ended ? told : ended.failure().details[0].second;
}

}  // namespace

TEST_CASE("An archive is read back in pieces of any size") {
  const std::string archive = must_make({{"keys.json", "12345"}, {"empty", ""}, {"full", std::string(512, 'x')}});
  for (const std::size_t piece : {1u, 7u, 511u, 512u, 513u, 100000u}) {
    CAPTURE(piece);
    CHECK(read_back(archive, piece) == "(keys.json 5)12345(empty 0)(full 512)" + std::string(512, 'x'));
  }
}

TEST_CASE("An archive that was cut off anywhere says so") {
  const std::string archive = must_make({{"keys.json", std::string(700, 'k')}});
  for (std::size_t kept = 0; kept <= 512 + 1024; kept += 64) {
    CAPTURE(kept);
    CHECK(read_back(archive.substr(0, kept), 100) == "cut-short");
  }
}

TEST_CASE("A header with any other byte is refused") {
  const std::string archive = must_make({{"keys.json", "12345"}});
  for (std::size_t at = 0; at < 512; ++at) {
    if (at == 155) continue;  // the blank behind the sum
    std::string altered = archive;
    altered[at] = static_cast<char>(altered[at] ^ 1);
    CAPTURE(at);
    CHECK(read_back(altered, 4096) != "(keys.json 5)12345");
  }
}
