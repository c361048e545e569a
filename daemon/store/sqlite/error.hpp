// What SQLite says, in one place translated into what a keeper can do about it.
#pragma once

#include <stdexcept>
#include <string>

struct sqlite3;

namespace rindwatch::sqlite {

enum class ErrorKind {
  kFull,          // the disk has no room left
  kReadOnly,      // the file or its disk may not be written
  kCorrupt,       // the file is damaged
  kNotADatabase,  // the file is something else
  kLocked,        // another program held a write for longer than we wait
  kCannotOpen,    // missing, or not ours to open
  kDisk,          // reading, writing or syncing failed
  kOther,         // what was asked is at fault, not the disk
};

// Thrown by everything in this folder. The text is a whole sentence: which file, what happened, what to do.
class DatabaseError : public std::runtime_error {
 public:
  DatabaseError(ErrorKind kind, const std::string& sentence) : std::runtime_error(sentence), kind_(kind) {}
  ErrorKind Kind() const { return kind_; }

 private:
  ErrorKind kind_;
};

// Of an (extended) result code.
ErrorKind KindOf(int code);
// `detail` is SQLite's own text; it is appended in brackets for whoever helps the keeper.
DatabaseError MakeError(const std::string& path, int code, const std::string& detail);
// From the connection's last error. `db` may be null when there was not even memory for it.
DatabaseError MakeError(const std::string& path, int code, sqlite3* db);

}  // namespace rindwatch::sqlite
