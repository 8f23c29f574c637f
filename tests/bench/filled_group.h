// Two hundred offices with records that grow from decade to decade, on either engine, made through the store so that
// every ledger is whole. Each office has one sterilizer (S1) whose loads grow: the first two, of ten packages each,
// stand on a shelf, released and in date; those after them were opened for a visit. A second one (S2) ran five loads
// and grew spores in the fourth: thirty packages in doubt.
#pragma once

#include <functional>
#include <memory>
#include <string>

#include "loadlight/app/ports.h"
#include "store/sql_session.h"

namespace loadlight::bench {

inline constexpr int kOffices = 200;
inline constexpr int kPackagesPerLoad = 10;
inline constexpr int kShelfLoads = 2;
inline constexpr int kIncident = 1;  // its number in every office

// Where the offices lie.
class Group {
 public:
  virtual ~Group() = default;
  // Makes an office's place where there is none; its record may be empty.
  virtual void make(int office) = 0;
  virtual std::unique_ptr<port::Store> open(int office) = 0;
  // A session for bare statements, in the same office.
  virtual std::unique_ptr<store::SqlSession> bare(int office) = 0;
};

// A folder of office folders, each with its SQLite record.
std::unique_ptr<Group> folder_group(std::string folder);
// A PostgreSQL database, by the address of a role that may do everything.
std::unique_ptr<Group> database_group(std::string admin);

// Brings every office to this many packages of S1; what is there stays, and a call that was cut off is gone on with by
// the next. Memory is bounded by one unit of a thousand packages. `told` hears how many stand there, of all.
void fill(Group& group, int packages_per_office, const std::function<void(std::int64_t done)>& told);

// The world around an office of the group: all offices share one key.
class OfficeAtHand final {
 public:
  OfficeAtHand(Group& group, int office);
  ~OfficeAtHand();
  const app::Ports& ports() const;

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

// The id of the n-th package (from 1) of a sterilizer's loads, in any office.
core::PackageId package_id(int office, char sterilizer, int number);
std::string visit_of(int load);

}  // namespace loadlight::bench
