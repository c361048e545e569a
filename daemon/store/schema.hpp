// Makes a connection's file one of ours: settings, layout, purpose.
#pragma once

#include <cstdint>

#include "daemon/store/sqlite/database.hpp"
#include "daemon/store/store.hpp"

namespace rindwatch {

// "Rind" in ASCII; tells a file of ours from any other SQLite file.
inline constexpr std::int64_t kApplicationId = 0x52696e64;

// Throws StoreError if the file belongs to another program or was written by a newer rindwatch. An empty file passes.
void CheckOurs(sqlite::Database& database);
// Throws StoreError if a connection that only reads cannot read it: another program's, of another layout, or empty.
void CheckReadable(sqlite::Database& database);
// Write-ahead log, then every migration the file has not seen. Throws DatabaseError or StoreError.
void BringUpToDate(sqlite::Database& database);
// A new file takes the purpose; another purpose throws StoreError.
void CheckPurpose(sqlite::Database& database, Purpose purpose, rules::Instant now);

}  // namespace rindwatch
