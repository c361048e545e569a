// A statement is prepared once; each use of it is a Rows, which resets it on the way out.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

struct sqlite3_stmt;

namespace rindwatch::sqlite {

class Database;
class Statement;

// One run of a statement. One at a time per statement; shorter-lived than it.
class Rows {
 public:
  ~Rows();
  Rows(const Rows&) = delete;
  Rows& operator=(const Rows&) = delete;

  // Throws DatabaseError; false after the last row.
  bool Next();
  // Columns of the current row, from 0.
  std::int64_t Int(int column) const;
  std::optional<std::int64_t> MaybeInt(int column) const;  // none: NULL
  std::string Text(int column) const;

 private:
  friend class Statement;
  explicit Rows(Statement& statement) : statement_(statement) {}
  Statement& statement_;
};

class Statement {
 public:
  Statement(Database& database, const char* sql);
  ~Statement();
  Statement(const Statement&) = delete;
  Statement& operator=(const Statement&) = delete;

  // Texts are copied. Parameters in the order of their question marks.
  template <typename... Values>
  Rows Query(const Values&... values) {
    int index = 0;
    (Bind(++index, values), ...);
    return Rows(*this);
  }
  template <typename... Values>
  void Run(const Values&... values) {
    Rows rows = Query(values...);
    while (rows.Next()) {
    }
  }

 private:
  friend class Rows;
  void Bind(int index, std::int64_t value);
  void Bind(int index, const std::optional<std::int64_t>& value);
  void Bind(int index, std::string_view value);
  void Bind(int index, const std::string& value) { Bind(index, std::string_view(value)); }
  void Bind(int index, const char* value) { Bind(index, std::string_view(value)); }

  Database& database_;
  sqlite3_stmt* statement_ = nullptr;
};

}  // namespace rindwatch::sqlite
