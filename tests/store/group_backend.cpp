#include "group_backend.h"

#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <random>

#include "loadlight/store/group_record.h"
#include "store_contract.h"

namespace loadlight::store {
namespace {

std::string new_name(const std::string& kind) {
  static std::random_device dice;
  return kind + "_" + std::to_string(dice()) + "_" + std::to_string(::getpid());
}

}  // namespace

std::string test_server_address(const std::string& role, const std::string& database) {
  const char* place = std::getenv("LOADLIGHT_TEST_POSTGRES");
  std::string folder;
  if (place) std::getline(std::ifstream{place}, folder);
  if (folder.empty()) FAIL("no PostgreSQL server: LOADLIGHT_TEST_POSTGRES names no file that says where it lies");
  return "postgresql://" + role + "@/" + database + "?host=" + folder + "&port=5432";
}

std::unique_ptr<PostgresSession> session_as(const std::string& role, const std::string& database) {
  return must(PostgresSession::open(test_server_address(role, database), std::chrono::seconds{60}));
}

GroupDatabase::GroupDatabase() : name(new_name("group")) {
  must(session_as("postgres", "postgres")->run("CREATE DATABASE " + name));
  must(prepare_group(admin()));
}

GroupDatabase::~GroupDatabase() {
  (void)session_as("postgres", "postgres")->run("DROP DATABASE " + name + " WITH (FORCE)").ok();
}

std::string GroupDatabase::admin() const {
  return test_server_address("postgres", name);
}

PostgresBackend::PostgresBackend() : PostgresBackend(std::make_shared<GroupDatabase>()) {}

PostgresBackend::PostgresBackend(std::shared_ptr<GroupDatabase> group)
    : database(std::move(group)), office(new_name("office")), address(test_server_address(office, database->name)) {
  must(session_as("postgres", database->name)->run("CREATE ROLE " + office + " LOGIN IN ROLE loadlight_station"));
  must(admit_office(database->admin(), office, office));
  store = must(open_group_record(address, {.station = "T1", .patience = std::chrono::milliseconds{50}}));
}

}  // namespace loadlight::store
