#include "daemon/store/sqlite/transaction.hpp"

#include <sqlite3.h>

#include "daemon/store/sqlite/database.hpp"

namespace rindwatch::sqlite {

Transaction::Transaction(Database& database, Kind kind) : database_(database) {
  database_.Execute(kind == Kind::kWrite ? "BEGIN IMMEDIATE" : "BEGIN");
}

Transaction::~Transaction() {
  // SQLite has already rolled back after some errors (a full disk, for one).
  if (sqlite3_get_autocommit(database_.Handle()) != 0) return;
  sqlite3_exec(database_.Handle(), "ROLLBACK", nullptr, nullptr, nullptr);
}

void Transaction::Commit() { database_.Execute("COMMIT"); }

}  // namespace rindwatch::sqlite
