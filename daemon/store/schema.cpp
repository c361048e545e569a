#include "daemon/store/schema.hpp"

#include <fmt/format.h>

#include <random>
#include <string>

#include "daemon/store/migrations/migration.hpp"
#include "daemon/store/sqlite/statement.hpp"
#include "daemon/store/sqlite/transaction.hpp"

namespace rindwatch {
namespace {

std::string_view ToText(Purpose purpose) { return purpose == Purpose::kServe ? "serve" : "try"; }

// Copies that went separate ways, and files beside the database, are told apart by it.
std::string MakeStoreId() {
  std::random_device device;
  std::string id;
  for (int i = 0; i < 4; ++i) id += fmt::format("{:08x}", device());
  return id;
}

void Run(sqlite::Database& database, const Migration& migration) {
  sqlite::Transaction transaction(database, sqlite::Transaction::Kind::kWrite);
  database.Execute(migration.sql);
  // Both are in the file's header and so part of the transaction.
  database.Execute(
      fmt::format("PRAGMA application_id = {}; PRAGMA user_version = {}", kApplicationId, migration.version));
  transaction.Commit();
}

}  // namespace

void CheckOurs(sqlite::Database& database) {
  const std::int64_t application = database.AskInt("PRAGMA application_id");
  const std::int64_t version = database.AskInt("PRAGMA user_version");
  const bool empty = application == 0 && version == 0 && database.AskInt("SELECT count(*) FROM sqlite_schema") == 0;
  if (empty) return;
  if (application != kApplicationId)
    throw StoreError(database.Path() + " is a database of another program: name another file, or move this one away.");
  const int newest = Migrations().back().version;
  if (version > newest)
    throw StoreError(
        fmt::format("{} was written by a newer rindwatch (layout {}, this one knows up to {}): install the "
                    "newer rindwatch again, or put back a backup made before.",
                    database.Path(), version, newest));
}

void CheckReadable(sqlite::Database& database) {
  CheckOurs(database);
  const std::int64_t version = database.AskInt("PRAGMA user_version");
  const int newest = Migrations().back().version;
  if (version == 0)
    throw StoreError(database.Path() + " is empty: nothing was kept in it yet. Is this the right configuration?");
  if (version < newest)
    throw StoreError(fmt::format(
        "{} was written by an older rindwatch (layout {}, this one reads {}): start `rindwatch serve` on it "
        "once, which brings it up to date, or ask the older rindwatch.",
        database.Path(), version, newest));
}

void BringUpToDate(sqlite::Database& database) {
  if (database.AskText("PRAGMA journal_mode = WAL") != "wal")
    throw StoreError(database.Path() +
                     " lies on a disk without shared memory for SQLite's log (a network disk?): name a file on a local "
                     "disk.");
  // A log that a long reading made large shrinks again. Bytes.
  database.Execute("PRAGMA journal_size_limit = 16777216");
  for (const Migration& migration : Migrations())
    if (migration.version > database.AskInt("PRAGMA user_version")) Run(database, migration);
}

void CheckPurpose(sqlite::Database& database, Purpose purpose, rules::Instant now) {
  const std::string found = database.AskText("SELECT value FROM meta WHERE key = 'purpose'");
  if (found == ToText(purpose)) return;
  if (!found.empty())
    throw StoreError(purpose == Purpose::kServe
                         ? database.Path() +
                               " holds a trial (made by `rindwatch try`), not a real cellar: name another "
                               "database to serve."
                         : database.Path() +
                               " holds a real cellar (made by `rindwatch serve`): a trial never writes "
                               "into it; name another folder to try in.");
  sqlite::Transaction transaction(database, sqlite::Transaction::Kind::kWrite);
  sqlite::Statement insert(database, "INSERT INTO meta (key, value) VALUES (?, ?)");
  insert.Run("purpose", ToText(purpose));
  insert.Run("store", MakeStoreId());
  insert.Run("created", rules::ToText(now));
  transaction.Commit();
}

}  // namespace rindwatch
