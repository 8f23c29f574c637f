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
