// A new, empty record in a PostgreSQL server: an office of its own in a database of its own, or beside others.
#pragma once

#include <memory>
#include <string>

#include "loadlight/port/store.h"
#include "store/postgres_session.h"

namespace loadlight::store {

// The address by which a role of the tests' server reaches a database; the test fails when there is no server (the
// file named by LOADLIGHT_TEST_POSTGRES says where it lies: tests/outside/postgres.py).
std::string test_server_address(const std::string& role, const std::string& database);
std::unique_ptr<PostgresSession> session_as(const std::string& role, const std::string& database);

// A database with our tables and without offices, gone when this ends.
struct GroupDatabase final {
  GroupDatabase();
  ~GroupDatabase();
  GroupDatabase(const GroupDatabase&) = delete;
  GroupDatabase& operator=(const GroupDatabase&) = delete;

  std::string admin() const;  // the address of the role that may do everything

  std::string name;
};

struct PostgresBackend final {
  PostgresBackend();
  explicit PostgresBackend(std::shared_ptr<GroupDatabase> group);

  std::shared_ptr<GroupDatabase> database;
  std::string office;   // its name, and its role's
  std::string address;  // its role's
  std::unique_ptr<port::Store> store;
};

}  // namespace loadlight::store
