// A group of offices whose records lie in one database, and how a station belongs to an office of it. An office is
// named by its address, "postgresql://role@host/database", wherever else a folder names it.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "loadlight/app/moving_door.h"
#include "loadlight/core/result.h"
#include "loadlight/port/change_listener.h"
#include "loadlight/port/local_copy.h"
#include "loadlight/port/store.h"

namespace loadlight::app {

// How another station gets the office's keys: who has the code can read them.
struct Invitation final {
  std::string code;
};

// Addresses named `admin` are of a role that may make schemas and roles. Every function fails with OfficeUnreadable
// when no server answers.
struct GroupDoor final {
  MovingDoor moving{};
  // Makes the tables in an empty database, or brings them up to date.
  std::function<core::Result<void>(const std::string& admin)> prepare;
  // Makes an office with an empty record, or lets one more role into it.
  std::function<core::Result<void>(const std::string& admin, const std::string& office, const std::string& role)>
      admit_office;
  // Lets a role work in every office.
  std::function<core::Result<void>(const std::string& admin, const std::string& role)> admit_lead;
  // The names of all offices, for a role that leads.
  std::function<core::Result<std::vector<std::string>>(const std::string& address)> offices;
  // The record of one of them, for a role that leads.
  std::function<core::Result<std::unique_ptr<port::Store>>(const std::string& address, const std::string& office)>
      open_office;
  // Calls `told` whenever somebody changed the office's record, from a thread of the listener's own; null for an office
  // in a folder.
  std::function<std::unique_ptr<port::ChangeListener>(const std::string& address, std::function<void()> told)> listen;

  // What this station keeps of the office itself, whether or not that is still there; BadValue for a folder.
  std::function<core::Result<std::unique_ptr<port::LocalCopy>>(const std::string& address)> copy_beside;

  // StationNotJoined unless this station belongs to the office.
  std::function<core::Result<Invitation>(const std::string& address)> invite;
  // Takes the office's keys. `station` names this station's chain in the ledger: 1 to 16 of 0-9 and A-Z, each its
  // own; empty: this machine's name. JoinCodeWrong, BadValue.
  std::function<core::Result<std::string>(const std::string& address, const std::string& code, const std::string& station)>
      join;
};

}  // namespace loadlight::app
