// A new, empty record in a PostgreSQL server: an office of its own in a database that the tests share.
#pragma once

#include <memory>
#include <string>

#include "loadlight/port/store.h"

namespace loadlight::store {

// The address by which a role of the tests' server is reached; the test fails when there is no server (the file
// named by LOADLIGHT_TEST_POSTGRES says where it lies: tests/outside/postgres.py).
std::string test_server_address(const std::string& role);

struct PostgresBackend final {
  PostgresBackend();

  std::string office;   // its name, and its role's
  std::string address;  // its role's
  std::unique_ptr<port::Store> store;
};

}  // namespace loadlight::store
