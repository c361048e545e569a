// The SQL on journal lines. The table belongs to the writing connection.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "daemon/store/sqlite/statement.hpp"
#include "daemon/store/store.hpp"

namespace rindwatch {

class JournalTable {
 public:
  explicit JournalTable(sqlite::Database& database);

  // The line at line.position, its wheels and its facts. Inside a transaction of the caller's.
  void Insert(const JournalLine& line, rules::Instant kept_at, const std::vector<Fact>& facts);
  std::optional<JournalLine> Find(const std::string& id);

 private:
  sqlite::Statement insert_line_;
  sqlite::Statement insert_wheel_;
  sqlite::Statement insert_fact_;
  sqlite::Statement find_;
};

// Lines before a position (0: the newest), newest first. On any connection.
std::vector<JournalLine> ReadJournalPage(sqlite::Database& database, std::int64_t before_position, std::size_t count);

}  // namespace rindwatch
