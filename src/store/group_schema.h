// The tables of a group's database, and whose rows each role is shown.
#pragma once

#include "postgres_session.h"

namespace loadlight::store {

// In one transaction.
core::Result<void> create_group_schema(SqlSession& session);

// The tables that an earlier program made (since version 4), in one transaction.
core::Result<void> bring_group_up_to_date(SqlSession& session);

core::Result<void> add_office(SqlSession& session, const std::string& office, const std::string& role);

// Lets a role work in every office, one at a time.
core::Result<void> add_lead(SqlSession& session, const std::string& role);

}  // namespace loadlight::store
