#include "group_backend.h"

#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <random>

#include "loadlight/store/group_record.h"
#include "store/postgres_session.h"
#include "store_contract.h"

namespace loadlight::store {
namespace {

std::string new_name() {
  static std::random_device dice;
  return "office_" + std::to_string(dice()) + "_" + std::to_string(::getpid());
}

void make_role(const std::string& name) {
  const auto session = must(PostgresSession::open(test_server_address("postgres"), std::chrono::seconds{60}));
  must(session->run("CREATE ROLE " + name + " LOGIN IN ROLE loadlight_station"));
}

}  // namespace

std::string test_server_address(const std::string& role) {
  const char* place = std::getenv("LOADLIGHT_TEST_POSTGRES");
  std::string folder;
  if (place) std::getline(std::ifstream{place}, folder);
  if (folder.empty()) FAIL("no PostgreSQL server: LOADLIGHT_TEST_POSTGRES names no file that says where it lies");
  return "postgresql://" + role + "@/postgres?host=" + folder + "&port=5432";
}

PostgresBackend::PostgresBackend() : office(new_name()), address(test_server_address(office)) {
  const std::string admin = test_server_address("postgres");
  must(prepare_group(admin));
  make_role(office);
  must(admit_office(admin, office, office));
  store = must(open_group_record(address, {.station = "T1", .patience = std::chrono::milliseconds{50}}));
}

}  // namespace loadlight::store
