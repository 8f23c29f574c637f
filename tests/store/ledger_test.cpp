#include "store/ledger.h"

#include <catch2/catch.hpp>

#include "full_office.h"
#include "raw_sql.h"

namespace loadlight::store {
namespace {

// NIST FIPS 180-2, appendix B.1 and B.2: the examples of SHA-256.
TEST_CASE("SHA-256 gives the published digests") {
  CHECK(sha256("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
}

core::LedgerEntry an_entry() {
  return {12, core::instant_from(-5), "AB", "package-checked", "x", "{}", kNoHash, {}};
}

TEST_CASE("An entry's hash is over the bytes that the grammar states") {
  CHECK(entry_hash(an_entry()) ==
        sha256("loadlight ledger 1\n2:12\n2:-5\n2:AB\n15:package-checked\n1:x\n2:{}\n64:" +
               std::string(64, '0') + "\n"));
}

TEST_CASE("Moving a character from one field to the next changes the hash") {
  auto moved = an_entry();
  moved.subject = "x{";
  moved.body = "}";
  CHECK(entry_hash(moved) != entry_hash(an_entry()));
}

TEST_CASE("A body holds the details and the rows as they stand after the event") {
  const FullOffice office;
  RawSql raw{office.record()};
  CHECK(raw.value("SELECT body FROM ledger WHERE sequence = 7") == R"({"details":{},"records":[]})");
  CHECK(raw.value("SELECT json_extract(body, '$.records[0].table') FROM ledger WHERE sequence = 6") ==
        "packages");
  CHECK(raw.value("SELECT json_extract(body, '$.records[0].row.visit') FROM ledger WHERE sequence = 6") ==
        "A-1");
  CHECK(raw.value(
            "SELECT json_extract(body, '$.records[0].row.process_date') FROM ledger WHERE sequence = 6") ==
        "20261125");
}

}  // namespace
}  // namespace loadlight::store
