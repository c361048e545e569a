// The SQL on notices. The table belongs to the writing connection.
#pragma once

#include <cstdint>
#include <vector>

#include "daemon/store/sqlite/statement.hpp"
#include "daemon/store/store.hpp"

namespace rindwatch {

class NoticeTable {
 public:
  explicit NoticeTable(sqlite::Database& database);

  // As Store::WriteNotices says; inside a transaction of the caller's. The numbers in the order of the rows.
  std::vector<std::int64_t> Write(const std::vector<NoticeRow>& rows);

 private:
  std::int64_t WriteOne(const NoticeRow& row);

  sqlite::Statement insert_;
  sqlite::Statement find_;
  sqlite::Statement change_;
};

// On any connection; as the store says.
std::vector<NoticeRow> ReadNoticesSince(sqlite::Database& database, rules::Instant since);
std::vector<NoticeRow> ReadNoticePage(sqlite::Database& database, std::int64_t before, std::size_t count);

}  // namespace rindwatch
