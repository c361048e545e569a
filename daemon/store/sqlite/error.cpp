#include "daemon/store/sqlite/error.hpp"

#include <sqlite3.h>

namespace rindwatch::sqlite {
namespace {

std::string Sentence(ErrorKind kind, const std::string& path) {
  switch (kind) {
    case ErrorKind::kFull:
      return "The disk that holds " + path + " is full: make room on it, and writing resumes by itself";
    case ErrorKind::kReadOnly:
      return path +
             " may not be written: give its file and folder to the user that runs rindwatch, and see that the disk is "
             "not mounted read-only";
    case ErrorKind::kCorrupt:
      return path + " is damaged: stop rindwatch, keep a copy of the file, and put the last backup in its place";
    case ErrorKind::kNotADatabase:
      return path + " is not a database of rindwatch: name another file, or move this one away";
    case ErrorKind::kLocked:
      return path + " is being written by another program: close that program";
    case ErrorKind::kCannotOpen:
      return path + " cannot be opened: see that its folder exists and belongs to the user that runs rindwatch";
    case ErrorKind::kDisk:
      return "The disk that holds " + path + " fails to read or write: check the disk or card";
    case ErrorKind::kOther:
      return path + " refuses what was asked";
  }
  return path;
}

}  // namespace

ErrorKind KindOf(int code) {
  switch (code & 0xff) {
    case SQLITE_FULL:
      return ErrorKind::kFull;
    case SQLITE_READONLY:
    case SQLITE_PERM:
      return ErrorKind::kReadOnly;
    case SQLITE_CORRUPT:
      return ErrorKind::kCorrupt;
    case SQLITE_NOTADB:
      return ErrorKind::kNotADatabase;
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return ErrorKind::kLocked;
    case SQLITE_CANTOPEN:
      return ErrorKind::kCannotOpen;
    case SQLITE_IOERR:
      return ErrorKind::kDisk;
    default:
      return ErrorKind::kOther;
  }
}

DatabaseError MakeError(const std::string& path, int code, const std::string& detail) {
  const ErrorKind kind = KindOf(code);
  return {kind, Sentence(kind, path) + " (SQLite " + std::to_string(code) + ": " + detail + ")."};
}

DatabaseError MakeError(const std::string& path, int code, sqlite3* db) {
  return MakeError(path, code, std::string(db != nullptr ? sqlite3_errmsg(db) : sqlite3_errstr(code)));
}

}  // namespace rindwatch::sqlite
