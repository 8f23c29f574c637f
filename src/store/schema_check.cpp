#include "schema_check.h"

#include <algorithm>
#include <set>

#include "schema.h"

namespace loadlight::store {
namespace {

// Of "CREATE TABLE packages (...": packages.
std::string name_made_by(std::string_view sql) {
  for (int word = 0; word < 2; ++word) sql.remove_prefix(std::min(sql.find(' ') + 1, sql.size()));
  return std::string{sql.substr(0, sql.find_first_of(" ("))};
}

// The parts between commas in any order, without blanks: a column that a later version added stands elsewhere
// than in a record made by it, and has a default for the rows before.
std::multiset<std::string> parts_of(std::string sql) {
  std::erase_if(sql, [](char c) { return c == ' ' || c == '\n'; });
  std::multiset<std::string> parts;
  for (std::size_t at = 0; at <= sql.size();) {
    const std::size_t end = std::min(sql.find(',', at), sql.size());
    std::string part = sql.substr(at, end - at);
    for (const std::string_view given : {"DEFAULT''", "DEFAULT0"}) {
      if (part.ends_with(given)) part.resize(part.size() - given.size());
    }
    parts.insert(std::move(part));
    at = end + 1;
  }
  return parts;
}

}  // namespace

core::Result<std::vector<port::Alteration>> schema_alterations(SqlSession& session) {
  const auto kept = session.kept_statements();
  if (!kept) return kept.failure();
  std::vector<port::Alteration> alterations;
  if (!*kept) return alterations;
  std::multiset<std::multiset<std::string>> found;
  for (const std::string& sql : **kept) found.insert(parts_of(sql));
  for (const std::string& sql : schema_statements(session.dialect())) {
    const auto same = found.find(parts_of(sql));
    if (same == found.end()) alterations.push_back({"schema " + name_made_by(sql), "schema-altered"});
    if (same != found.end()) found.erase(same);
  }
  if (!found.empty()) alterations.push_back({"record.db", "schema-extra"});
  return alterations;
}

}  // namespace loadlight::store
