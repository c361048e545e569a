// One connection to an SQLite file. Used by one thread at a time; lives longer than its statements.
#pragma once

#include <chrono>
#include <cstdint>
#include <string>

struct sqlite3;

namespace rindwatch::sqlite {

class Database {
 public:
  enum class Access { kReadOnly, kReadWrite, kCreate };
  // A statement that meets another program's write waits this long, then throws kLocked.
  static constexpr std::chrono::milliseconds kBusyTimeout{5'000};

  // Throws DatabaseError; foreign keys are on.
  Database(std::string path, Access access, std::chrono::milliseconds busy_timeout = kBusyTimeout);
  ~Database();
  Database(const Database&) = delete;
  Database& operator=(const Database&) = delete;

  // Runs statements that answer nothing, separated by semicolons.
  void Execute(const char* sql);
  void Execute(const std::string& sql) { Execute(sql.c_str()); }
  // The first column of the first row; 0 if there is none.
  std::int64_t AskInt(const char* sql);
  std::string AskText(const char* sql);

  // Brings what was committed to the write-ahead log, but not yet synced, on disk. Nothing to do: returns at once.
  void SyncLog();
  // Moves the log into the file as far as readers let it and syncs both. `truncate` also empties the log, if nobody
  // reads. Being hindered by a reader is not an error.
  void Checkpoint(bool truncate);

  // Any thread: what runs now on this connection throws soon.
  void Interrupt() noexcept;

  const std::string& Path() const { return path_; }
  sqlite3* Handle() { return db_; }
  // Throws the connection's last error if `code` is one.
  void Check(int code);

 private:
  std::string path_;
  sqlite3* db_ = nullptr;
};

}  // namespace rindwatch::sqlite
