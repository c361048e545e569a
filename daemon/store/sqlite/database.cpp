#include "daemon/store/sqlite/database.hpp"

#include <sqlite3.h>

#include <utility>

#include "daemon/store/sqlite/error.hpp"
#include "daemon/store/sqlite/statement.hpp"

namespace rindwatch::sqlite {
namespace {

int FlagsOf(Database::Access access) {
  // No mutex: each connection belongs to one thread.
  switch (access) {
    case Database::Access::kReadOnly:
      return SQLITE_OPEN_READONLY | SQLITE_OPEN_NOMUTEX;
    case Database::Access::kReadWrite:
      return SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX;
    case Database::Access::kCreate:
      return SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_NOMUTEX;
  }
  return SQLITE_OPEN_READONLY;
}

}  // namespace

Database::Database(std::string path, Access access, std::chrono::milliseconds busy_timeout) : path_(std::move(path)) {
  const int code = sqlite3_open_v2(path_.c_str(), &db_, FlagsOf(access), nullptr);
  if (code != SQLITE_OK) {
    const DatabaseError error = MakeError(path_, code, db_);
    sqlite3_close_v2(db_);
    throw error;
  }
  sqlite3_extended_result_codes(db_, 1);
  sqlite3_busy_timeout(db_, static_cast<int>(busy_timeout.count()));
  sqlite3_db_config(db_, SQLITE_DBCONFIG_ENABLE_FKEY, 1, nullptr);
}

// _v2: a statement that outlives its connection by mistake leaks instead of crashing.
Database::~Database() { sqlite3_close_v2(db_); }

void Database::Check(int code) {
  if (code != SQLITE_OK && code != SQLITE_ROW && code != SQLITE_DONE) throw MakeError(path_, code, db_);
}

void Database::Interrupt() noexcept { sqlite3_interrupt(db_); }

void Database::Execute(const char* sql) { Check(sqlite3_exec(db_, sql, nullptr, nullptr, nullptr)); }

std::int64_t Database::AskInt(const char* sql) {
  Statement statement(*this, sql);
  Rows rows = statement.Query();
  return rows.Next() ? rows.Int(0) : 0;
}

std::string Database::AskText(const char* sql) {
  Statement statement(*this, sql);
  Rows rows = statement.Query();
  return rows.Next() ? rows.Text(0) : std::string();
}

void Database::SyncLog() {
  // The log's own file handle, so that its folder is synced too when the log is new.
  sqlite3_file* log = nullptr;
  Check(sqlite3_file_control(db_, "main", SQLITE_FCNTL_JOURNAL_POINTER, static_cast<void*>(&log)));
  if (log == nullptr || log->pMethods == nullptr) return;  // nothing was written through this connection yet
  const int code = log->pMethods->xSync(log, SQLITE_SYNC_NORMAL);
  if (code != SQLITE_OK) throw MakeError(path_, code, std::string(sqlite3_errstr(code)));
}

void Database::Checkpoint(bool truncate) {
  const int mode = truncate ? SQLITE_CHECKPOINT_TRUNCATE : SQLITE_CHECKPOINT_PASSIVE;
  const int code = sqlite3_wal_checkpoint_v2(db_, "main", mode, nullptr, nullptr);
  if (KindOf(code) == ErrorKind::kLocked) return;  // a reader is busy; the log is kept and read again at the start
  Check(code);
}

}  // namespace rindwatch::sqlite
