#include "loadlight/system/pin_book.h"

#include <sys/stat.h>

#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>

#include "loadlight/system/files.h"
#include "scratch_folder.h"

using namespace loadlight;
using core::FailureCode;
using port::PinAnswer;
using std::chrono::seconds;

namespace {

const core::Instant kNow = core::instant_from(1764079387000);

port::PinCheck check(port::PinBook& book, const char* code, const char* pin, core::Instant at = kNow) {
  const auto checked = book.check(code, pin, at);
  REQUIRE(checked);
  return *checked;
}

std::string text_of(const ScratchFolder& office) {
  const auto text = system::read_whole_file(office.path("pins.json"), 1 << 20);
  REQUIRE(text);
  return *text;
}

void put(const ScratchFolder& office, const std::string& text) {
  std::ofstream{office.path("pins.json")} << text;
}

// As if the first operator's PIN had been wrong so often in a row, last at `at`.
void set_wrong(const ScratchFolder& office, int wrong, core::Instant at) {
  auto book = nlohmann::json::parse(text_of(office));
  book["pins"][0]["wrong"] = wrong;
  book["pins"][0]["last_wrong"] = core::to_milliseconds(at);
  put(office, book.dump());
}

int wrong_in(const ScratchFolder& office) {
  return nlohmann::json::parse(text_of(office))["pins"][0]["wrong"].get<int>();
}

}  // namespace

TEST_CASE("A book without PINs knows nobody") {
  const ScratchFolder office;
  const auto book = system::open_pin_book(office.path());
  CHECK(check(*book, "AB", "123456").answer == PinAnswer::None);
  CHECK_FALSE(*book->has("AB"));
  CHECK(office.names().empty());
}

TEST_CASE("Only the right PIN is right and it is kept nowhere") {
  const ScratchFolder office;
  const auto book = system::open_pin_book(office.path());
  REQUIRE(book->set("AB", "lamp on the load"));
  CHECK(check(*book, "AB", "lamp on the load").answer == PinAnswer::Right);
  CHECK(check(*book, "AB", "lamp on the loaf").answer == PinAnswer::Wrong);
  CHECK(check(*book, "CD", "lamp on the load").answer == PinAnswer::None);
  CHECK(text_of(office).find("lamp") == std::string::npos);
  CHECK(text_of(office).find("$argon2id$") != std::string::npos);
  struct stat held {};
  REQUIRE(::stat(office.path("pins.json").c_str(), &held) == 0);
  CHECK((held.st_mode & 0777) == 0600);
}

TEST_CASE("Two of the same PIN are kept as different texts") {
  const ScratchFolder office;
  const auto book = system::open_pin_book(office.path());
  REQUIRE(book->set("AB", "135790"));
  REQUIRE(book->set("CD", "135790"));
  const auto pins = nlohmann::json::parse(text_of(office))["pins"];
  CHECK(pins[0]["hash"] != pins[1]["hash"]);
}

TEST_CASE("Another book on the same folder goes on where the first stood") {
  const ScratchFolder office;
  REQUIRE(system::open_pin_book(office.path())->set("AB", "135790"));
  const auto book = system::open_pin_book(office.path());
  CHECK(check(*book, "AB", "000000").answer == PinAnswer::Wrong);
  CHECK(wrong_in(office) == 1);
  CHECK(check(*system::open_pin_book(office.path()), "AB", "135790").answer == PinAnswer::Right);
  CHECK(wrong_in(office) == 0);
}

TEST_CASE("From the third wrong PIN in a row on each costs twice the wait of the one before") {
  const ScratchFolder office;
  const auto book = system::open_pin_book(office.path());
  REQUIRE(book->set("AB", "135790"));
  const std::pair<int, int> waits[] = {{0, 0}, {1, 0}, {2, 1}, {3, 2}, {4, 4}, {11, 512}, {12, 1024}, {98, 1024}};
  for (const auto& [wrong_before, wait] : waits) {
    CAPTURE(wrong_before);
    set_wrong(office, wrong_before, kNow - std::chrono::hours{1});
    const auto checked = check(*book, "AB", "000000");
    CHECK(checked.answer == PinAnswer::Wrong);
    CHECK(checked.wait == seconds{wait});
  }
}

TEST_CASE("While it lasts nothing is compared and a wait is over to the second") {
  const ScratchFolder office;
  const auto book = system::open_pin_book(office.path());
  REQUIRE(book->set("AB", "135790"));
  set_wrong(office, 8, kNow);  // 32 seconds
  const auto early = check(*book, "AB", "135790", kNow + seconds{31});
  CHECK(early.answer == PinAnswer::Wait);
  CHECK(early.wait == seconds{1});
  CHECK(wrong_in(office) == 8);
  CHECK(check(*book, "AB", "135790", kNow + seconds{32}).answer == PinAnswer::Right);
}

TEST_CASE("A clock that is set back counts as no time gone") {
  const ScratchFolder office;
  const auto book = system::open_pin_book(office.path());
  REQUIRE(book->set("AB", "135790"));
  set_wrong(office, 8, kNow);
  const auto checked = check(*book, "AB", "135790", kNow - std::chrono::hours{100});
  CHECK(checked.answer == PinAnswer::Wait);
  CHECK(checked.wait == seconds{32});
}

TEST_CASE("A wrong PIN of a day that has not come keeps nobody out for longer than its wait") {
  const ScratchFolder office;
  const auto book = system::open_pin_book(office.path());
  REQUIRE(book->set("AB", "135790"));
  const auto back = kNow - std::chrono::hours{24 * 365 * 70};
  set_wrong(office, 8, kNow);
  CHECK(check(*book, "AB", "135790", back).wait == seconds{32});
  CHECK(check(*book, "AB", "135790", back + seconds{31}).wait == seconds{1});
  CHECK(wrong_in(office) == 8);
  CHECK(check(*book, "AB", "135790", back + seconds{32}).answer == PinAnswer::Right);
}

TEST_CASE("After a hundred wrong ones even the right one is not looked at until a new one is set") {
  const ScratchFolder office;
  const auto book = system::open_pin_book(office.path());
  REQUIRE(book->set("AB", "135790"));
  set_wrong(office, port::PinBook::kMostWrong - 1, kNow - std::chrono::hours{1});
  CHECK(check(*book, "AB", "000000").answer == PinAnswer::Wrong);
  const auto later = kNow + std::chrono::hours{1000};
  CHECK(check(*book, "AB", "135790", later).answer == PinAnswer::Locked);
  REQUIRE(book->set("AB", "246801"));
  CHECK(check(*book, "AB", "246801", later).answer == PinAnswer::Right);
}

TEST_CASE("A PIN that was taken away is none") {
  const ScratchFolder office;
  const auto book = system::open_pin_book(office.path());
  REQUIRE(book->set("AB", "135790"));
  REQUIRE(book->remove("AB"));
  REQUIRE(book->remove("AB"));
  CHECK(check(*book, "AB", "135790").answer == PinAnswer::None);
}

TEST_CASE("A book that cannot be read lets nobody in and is left as it is") {
  for (const char* text : {"", "{", "[]", "{\"pins\":[{}]}", "{\"pins\":[{\"operator\":1}]}"}) {
    CAPTURE(text);
    const ScratchFolder office;
    put(office, text);
    const auto book = system::open_pin_book(office.path());
    const auto checked = book->check("AB", "135790", kNow);
    REQUIRE_FALSE(checked);
    CHECK(checked.failure().code == FailureCode::PinsUnreadable);
    CHECK_FALSE(book->set("AB", "135790"));
    CHECK(text_of(office) == text);
  }
}

TEST_CASE("A book whose counts or times cannot be is no book") {
  const auto book_of = [](const std::string& wrong, const std::string& last) {
    return R"({"pins":[{"operator":"AB","hash":"","wrong":)" + wrong + R"(,"last_wrong":)" + last + "}]}";
  };
  const ScratchFolder office;
  const auto book = system::open_pin_book(office.path());
  for (const char* wrong : {"-1", "-2000000000", "4294967295", "18446744073709551615", "1e300", "0.5", "\"0\""}) {
    CAPTURE(wrong);
    put(office, book_of(wrong, "0"));
    CHECK_FALSE(book->check("AB", "135790", kNow));
  }
  for (const char* last : {"-9223372036854775808", "9223372036854775807", "18446744073709551615", "1e300", "null"}) {
    CAPTURE(last);
    put(office, book_of("1", last));
    CHECK_FALSE(book->check("AB", "135790", kNow));
  }
  put(office, book_of("0", "-5"));  // a clock that stood before 1970
  CHECK(check(*book, "AB", "135790").answer == PinAnswer::Wrong);
}

TEST_CASE("A wrong try that cannot be written down is no try") {
  const ScratchFolder office;
  const auto book = system::open_pin_book(office.path("gone"));
  CHECK_FALSE(book->set("AB", "135790"));
}
