// The SQL on the engine's snapshots; the newest few stay. Belongs to the writing connection.
#pragma once

#include <optional>

#include "daemon/store/sqlite/statement.hpp"
#include "daemon/store/store.hpp"

namespace rindwatch {

class SnapshotTable {
 public:
  static constexpr std::int64_t kStay = 3;

  explicit SnapshotTable(sqlite::Database& database);
  // Inside a transaction of the caller's.
  void Save(const Snapshot& snapshot);
  std::optional<Snapshot> Newest(int rules_version);
  // Takes away those that know of something later. Inside a transaction of the caller's.
  void DropAfter(rules::Instant until);

 private:
  sqlite::Database& database_;
  sqlite::Statement save_;
  sqlite::Statement trim_;
  sqlite::Statement newest_;
};

}  // namespace rindwatch
