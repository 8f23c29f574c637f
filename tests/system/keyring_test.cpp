#include "loadlight/system/keyring.h"
#include "loadlight/system/private_files.h"

#include <sys/stat.h>

#include <catch2/catch.hpp>
#include <fstream>
#include <set>

#include "loadlight/system/files.h"
#include "scratch_folder.h"

using namespace loadlight;
using core::FailureCode;

namespace {

constexpr std::string_view kSigned = "LL1.S0000000000.1TS1-204.16D20261125.HAK.PEXAM01.BPCH.Z";
const core::Instant kNow = core::instant_from(1764079387000);

std::string key_file(const ScratchFolder& office) {
  return office.path("keys.json");
}

std::string text_of(const std::string& path) {
  const auto text = system::read_whole_file(path, 1 << 20);
  REQUIRE(text);
  return *text;
}

void put(const std::string& path, std::string_view text) {
  std::ofstream{path} << text;
}

// Why the keys are refused once the key file holds `text`.
std::string refusal(const std::string& text) {
  const ScratchFolder office;
  put(key_file(office), text);
  const auto keyring = system::open_keyring(office.path());
  if (keyring) return "";
  CHECK(keyring.failure().code == FailureCode::KeysUnreadable);
  return keyring.failure().details.back().second;
}

const std::string kHex64(64, 'a');
std::string entry(int id, const std::string& key) {
  return R"({"id":)" + std::to_string(id) + R"(,"made_at":1,"key":")" + key + "\"}";
}
std::string list(const std::string& entries) {
  return R"({"keys":[)" + entries + "]}";
}

}  // namespace

TEST_CASE("A new keyring signs, and opened again it verifies what it signed") {
  const ScratchFolder office;
  const auto made = system::create_keyring(office.path(), kNow);
  REQUIRE(made);
  const std::string mac = (*made)->mac(kSigned);
  CHECK(mac.size() == 13);
  const auto opened = system::open_keyring(office.path());
  REQUIRE(opened);
  CHECK((*opened)->mac(kSigned) == mac);
  CHECK((*opened)->verifies(kSigned, mac));
}

TEST_CASE("Another text, another authenticator and another office's key are refused") {
  const ScratchFolder ours;
  const ScratchFolder theirs;
  const auto keyring = *system::create_keyring(ours.path(), kNow);
  const auto foreign = *system::create_keyring(theirs.path(), kNow);
  std::string mac = keyring->mac(kSigned);
  CHECK_FALSE(foreign->verifies(kSigned, mac));
  CHECK_FALSE(keyring->verifies(std::string{kSigned} + "X", mac));
  CHECK_FALSE(keyring->verifies(kSigned, ""));
  CHECK_FALSE(keyring->verifies(kSigned, mac.substr(1)));
  mac.back() = mac.back() == '0' ? '1' : '0';
  CHECK_FALSE(keyring->verifies(kSigned, mac));
}

TEST_CASE("After a rotation the new key signs and every old one verifies") {
  const ScratchFolder office;
  const std::string first = (*system::create_keyring(office.path(), kNow))->mac(kSigned);
  REQUIRE(system::add_key(office.path(), kNow));
  const std::string second = (*system::open_keyring(office.path()))->mac(kSigned);
  REQUIRE(system::add_key(office.path(), kNow));
  const std::string third = (*system::open_keyring(office.path()))->mac(kSigned);
  CHECK(std::set<std::string>{first, second, third}.size() == 3);
  const auto opened = *system::open_keyring(office.path());
  for (const auto& mac : {first, second, third}) CHECK(opened->verifies(kSigned, mac));
  CHECK(opened->mac(kSigned) == third);
}

TEST_CASE("Whoever has the keys open signs by a new one as soon as it is there") {
  const ScratchFolder office;
  const auto open = *system::create_keyring(office.path(), kNow);
  const std::string first = open->mac(kSigned);
  CHECK(open->current_key() == 1);
  REQUIRE(system::add_key(office.path(), kNow));
  CHECK(open->current_key() == 2);
  const std::string second = (*system::open_keyring(office.path()))->mac(kSigned);
  CHECK(open->mac(kSigned) == second);
  CHECK(open->verifies(kSigned, first));
  CHECK(open->verifies(kSigned, second));
  put(key_file(office), "{");  // what cannot be read changes nothing for whoever has them open
  CHECK(open->mac(kSigned) == second);
  CHECK(open->verifies(kSigned, first));
}

TEST_CASE("Only its owner may read or write the key file, whatever the umask, and others are noticed") {
  const ScratchFolder office;
  const mode_t before = ::umask(0);
  REQUIRE(system::create_keyring(office.path(), kNow));
  REQUIRE(system::add_key(office.path(), kNow));
  ::umask(before);
  struct stat held {};
  REQUIRE(::stat(key_file(office).c_str(), &held) == 0);
  CHECK((held.st_mode & 0777) == 0600);
  CHECK(system::exposed_files(office.path()).empty());
  ::chmod(key_file(office).c_str(), 0640);
  CHECK(system::exposed_files(office.path()) == std::vector<std::string>{"keys.json"});
  CHECK(system::open_keyring(office.path()));
}

TEST_CASE("Keys that exist are never replaced by new ones") {
  const ScratchFolder office;
  REQUIRE(system::create_keyring(office.path(), kNow));
  const std::string before = text_of(key_file(office));
  const auto again = system::create_keyring(office.path(), kNow);
  REQUIRE_FALSE(again);
  CHECK(again.failure().code == FailureCode::FileExists);
  CHECK(text_of(key_file(office)) == before);
}

TEST_CASE("An absent key file or office is told as such, and rotation makes none") {
  const ScratchFolder office;
  const auto absent = system::open_keyring(office.path());
  REQUIRE_FALSE(absent);
  CHECK(absent.failure().code == FailureCode::KeysUnreadable);
  CHECK(absent.failure().details == core::Details{{"path", key_file(office)}, {"why", "absent"}});
  CHECK_FALSE(system::add_key(office.path(), kNow));
  CHECK(office.names().empty());
  const auto nowhere = system::create_keyring(office.path("absent"), kNow);
  REQUIRE_FALSE(nowhere);
  CHECK(nowhere.failure().code == FailureCode::FileUnwritable);
}

TEST_CASE("A key file that was tampered with is refused whole") {
  CHECK(refusal(list(entry(1, kHex64))).empty());
  CHECK(refusal(list(entry(1, kHex64) + "," + entry(2, kHex64))).empty());
  for (const std::string& text :
       {std::string{}, std::string{"{}"}, std::string{"[]"}, std::string{"null"}, list(""), list("1"),
        list(entry(2, kHex64)), list(entry(1, kHex64) + "," + entry(1, kHex64)), list(entry(1, "")),
        list(entry(1, kHex64.substr(1))), list(entry(1, kHex64 + "aa")),
        list(entry(1, kHex64.substr(1) + "g")), list(entry(1, kHex64)) + "x", list(R"({"id":1,"made_at":1})"),
        list(R"({"id":1,"made_at":"1","key":")" + kHex64 + "\"}"),
        list(R"({"id":1,"made_at":18446744073709551615,"key":")" + kHex64 + "\"}"),
        list(R"({"id":1,"made_at":1,"key":")" + kHex64 + R"(","more":1})"), std::string(2 << 20, ' ')}) {
    INFO(text.substr(0, 200));
    CHECK_FALSE(refusal(text).empty());
  }
}

TEST_CASE("A rotation of a damaged key file changes nothing") {
  const ScratchFolder office;
  put(key_file(office), "{");
  CHECK_FALSE(system::add_key(office.path(), kNow));
  CHECK(text_of(key_file(office)) == "{");
  CHECK(office.names() == std::vector<std::string>{"keys.json"});
}

TEST_CASE("Random bytes fill the whole span, each time anew") {
  const ScratchFolder office;
  const auto keyring = *system::create_keyring(office.path(), kNow);
  std::set<std::vector<std::uint8_t>> seen;
  std::set<std::uint8_t> last_bytes;
  for (int i = 0; i < 200; ++i) {
    std::vector<std::uint8_t> bytes(6);
    keyring->fill_random(bytes);
    last_bytes.insert(bytes.back());
    seen.insert(bytes);
  }
  CHECK(seen.size() == 200);
  CHECK(last_bytes.size() > 50);
}
