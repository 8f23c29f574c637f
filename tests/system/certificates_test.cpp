#include "loadlight/system/certificates.h"

#include <sys/stat.h>
#include <sys/wait.h>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <fstream>

#include "loadlight/system/files.h"
#include "scratch_folder.h"

using namespace loadlight;
using core::FailureCode;
using std::chrono::hours;

namespace {

const core::Instant kNow = core::instant_from(1795900000000);
const system::StationPlace kPlace{{"bench", "bench.local", "localhost"}, {"192.0.2.7", "198.51.100.20", "127.0.0.1"}};

core::Result<port::StationCertificates> open(const ScratchFolder& office, core::Instant now = kNow,
                                             const system::StationPlace& place = kPlace) {
  return system::open_certificates(office.path(), "Corner office", now, place);
}

port::StationCertificates must_open(const ScratchFolder& office, core::Instant now = kNow,
                                    const system::StationPlace& place = kPlace) {
  auto made = open(office, now, place);
  REQUIRE(made);
  return *made;
}

std::string text_of(const ScratchFolder& office, const char* name) {
  const auto text = system::read_whole_file(office.path(name), 1 << 20);
  REQUIRE(text);
  return *text;
}

void put(const ScratchFolder& office, const char* name, const std::string& text) {
  std::ofstream{office.path(name)} << text;
}

// A judge that is not ours: its exit status, what it said in `said`.
int openssl(const ScratchFolder& office, const std::string& arguments, std::string* said = nullptr) {
  const std::string out = office.path("openssl.out");
  const std::string command = "cd '" + office.path() + "' && openssl " + arguments + " > '" + out + "' 2>&1";
  const int status = std::system(command.c_str());
  if (said) *said = text_of(office, "openssl.out");
  return WEXITSTATUS(status);
}

std::string verify(const std::string& more) {
  return "verify -x509_strict -attime 1795900000 -CAfile authority.pem " + more + " station.pem";
}

std::string why(const core::Result<port::StationCertificates>& refused) {
  REQUIRE_FALSE(refused);
  CHECK(refused.failure().code == FailureCode::CertificatesUnusable);
  return refused.failure().details.back().second;
}

}  // namespace

TEST_CASE("The station's certificate stands under the office's authority as another program judges it") {
  const ScratchFolder office;
  must_open(office);
  CHECK(openssl(office, verify("-purpose sslserver")) == 0);
  for (const char* name : {"bench", "bench.local", "localhost"}) {
    CHECK(openssl(office, verify(std::string{"-verify_hostname "} + name)) == 0);
  }
  for (const char* address : {"192.0.2.7", "198.51.100.20", "127.0.0.1"}) {
    CHECK(openssl(office, verify(std::string{"-verify_ip "} + address)) == 0);
  }
  CHECK(openssl(office, verify("-verify_hostname elsewhere")) != 0);
  CHECK(openssl(office, verify("-verify_ip 192.0.2.8")) != 0);
}

TEST_CASE("The authority bears the office's name and is good for certificates alone") {
  const ScratchFolder office;
  must_open(office);
  std::string said;
  REQUIRE(openssl(office, "x509 -in authority.pem -noout -text", &said) == 0);
  CHECK(said.find("CN = Corner office") != std::string::npos);
  CHECK(said.find("CA:TRUE, pathlen:0") != std::string::npos);
  CHECK(said.find("Certificate Sign, CRL Sign") != std::string::npos);
  CHECK(said.find("prime256v1") != std::string::npos);
  CHECK(openssl(office, "verify -attime 1795900000 -CAfile authority.pem -purpose sslserver authority.pem") != 0);
}

TEST_CASE("Private keys are their owner's alone") {
  const ScratchFolder office;
  must_open(office);
  for (const char* name : {"authority-key.pem", "station-key.pem"}) {
    struct stat held {};
    REQUIRE(::stat(office.path(name).c_str(), &held) == 0);
    CHECK((held.st_mode & 0777) == 0600);
  }
  CHECK(office.names() == std::vector<std::string>{"authority-key.pem", "authority.pem", "station-key.pem",
                                                   "station.pem"});
}

TEST_CASE("A long name of any script is cut between its letters") {
  const ScratchFolder office;
  std::string name;
  for (int i = 0; i < 60; ++i) name += "é";
  REQUIRE(system::open_certificates(office.path(), name, kNow, kPlace));
  const ScratchFolder nameless;
  REQUIRE(system::open_certificates(nameless.path(), "", kNow, kPlace));
}

TEST_CASE("What is there is used as it is") {
  const ScratchFolder office;
  const auto first = must_open(office);
  const auto again = must_open(office, kNow + hours{24 * 300});
  CHECK(first.chain == again.chain);
  CHECK(first.key == again.key);
  CHECK(first.fingerprint.size() == 64);
  CHECK(first.addresses.back() == "127.0.0.1");
}

TEST_CASE("The station's certificate is made anew within thirty days of its end") {
  const ScratchFolder office;
  const auto first = must_open(office);
  CHECK(must_open(office, kNow + hours{24 * 334}).chain == first.chain);
  const auto late = must_open(office, kNow + hours{24 * 336});
  CHECK(late.chain != first.chain);
  CHECK(late.authority == first.authority);
}

TEST_CASE("A certificate that a clock made which stood ahead is made anew once it is right and the authority stays") {
  const ScratchFolder office;
  const auto ahead = must_open(office, kNow + hours{24 * 365 * 5});
  CHECK(openssl(office, verify("")) != 0);
  const auto right = must_open(office);
  CHECK(right.chain != ahead.chain);
  CHECK(right.authority == ahead.authority);
  CHECK(openssl(office, verify("")) == 0);
}

TEST_CASE("Another address or name asks for another certificate and another order of them does not") {
  const ScratchFolder office;
  const auto first = must_open(office);
  CHECK(must_open(office, kNow, {{"localhost", "bench.local", "bench"}, {"127.0.0.1", "198.51.100.20", "192.0.2.7"}})
            .chain == first.chain);
  const auto moved = must_open(office, kNow, {kPlace.names, {"192.0.2.9", "127.0.0.1"}});
  CHECK(moved.chain != first.chain);
  CHECK(moved.authority == first.authority);
  CHECK(openssl(office, verify("-verify_ip 192.0.2.9")) == 0);
  CHECK(openssl(office, verify("-verify_ip 192.0.2.7")) != 0);
}

TEST_CASE("An authority whose time is over is told and not replaced") {
  const ScratchFolder office;
  const auto first = must_open(office);
  CHECK(why(open(office, kNow + hours{24 * 3660})) == "expired");
  CHECK(text_of(office, "authority.pem") == first.authority);
}

TEST_CASE("Files that cannot be used are told and left as they are") {
  for (const char* name : {"authority.pem", "authority-key.pem", "station.pem", "station-key.pem"}) {
    CAPTURE(name);
    const ScratchFolder office;
    must_open(office);
    put(office, name, "nonsense");
    CHECK(why(open(office)) == "malformed");
    CHECK(text_of(office, name) == "nonsense");
  }
}

TEST_CASE("A certificate and the key of another do not go together") {
  const ScratchFolder office;
  const ScratchFolder other;
  must_open(office);
  put(office, "authority-key.pem", must_open(other).key);
  CHECK(why(open(office)) == "keys-differ");
}

TEST_CASE("An authority without its key or its certificate is told") {
  for (const char* name : {"authority.pem", "authority-key.pem"}) {
    CAPTURE(name);
    const ScratchFolder office;
    must_open(office);
    std::filesystem::remove(office.path(name));
    CHECK(why(open(office)) == "absent");
  }
}

TEST_CASE("Under a new authority the station gets a certificate of it") {
  const ScratchFolder office;
  const auto first = must_open(office);
  std::filesystem::remove(office.path("authority.pem"));
  std::filesystem::remove(office.path("authority-key.pem"));
  const auto second = must_open(office);
  CHECK(second.authority != first.authority);
  CHECK(openssl(office, verify("-purpose sslserver")) == 0);
}

TEST_CASE("A folder that is not there is no place for certificates") {
  const ScratchFolder office;
  CHECK_FALSE(system::open_certificates(office.path("gone"), "x", kNow, kPlace));
}

TEST_CASE("This machine has a name and an address that lead to itself") {
  const auto place = system::this_machine();
  CHECK(std::find(place.names.begin(), place.names.end(), "localhost") != place.names.end());
  CHECK(place.addresses.back() == "127.0.0.1");
}
