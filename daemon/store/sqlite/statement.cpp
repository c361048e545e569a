#include "daemon/store/sqlite/statement.hpp"

#include <sqlite3.h>

#include "daemon/store/sqlite/database.hpp"

namespace rindwatch::sqlite {

Statement::Statement(Database& database, const char* sql) : database_(database) {
  database_.Check(sqlite3_prepare_v3(database_.Handle(), sql, -1, SQLITE_PREPARE_PERSISTENT, &statement_, nullptr));
}

Statement::~Statement() { sqlite3_finalize(statement_); }

void Statement::Bind(int index, std::int64_t value) { database_.Check(sqlite3_bind_int64(statement_, index, value)); }

void Statement::Bind(int index, const std::optional<std::int64_t>& value) {
  database_.Check(value ? sqlite3_bind_int64(statement_, index, *value) : sqlite3_bind_null(statement_, index));
}

void Statement::Bind(int index, std::string_view value) {
  // A null pointer would bind NULL; an empty text is a text.
  const char* bytes = value.data() != nullptr ? value.data() : "";
  database_.Check(sqlite3_bind_text64(statement_, index, bytes, value.size(), SQLITE_TRANSIENT, SQLITE_UTF8));
}

Rows::~Rows() {
  sqlite3_reset(statement_.statement_);
  sqlite3_clear_bindings(statement_.statement_);
}

bool Rows::Next() {
  const int code = sqlite3_step(statement_.statement_);
  statement_.database_.Check(code);
  return code == SQLITE_ROW;
}

std::int64_t Rows::Int(int column) const { return sqlite3_column_int64(statement_.statement_, column); }

std::optional<std::int64_t> Rows::MaybeInt(int column) const {
  if (sqlite3_column_type(statement_.statement_, column) == SQLITE_NULL) return std::nullopt;
  return Int(column);
}

std::string Rows::Text(int column) const {
  const unsigned char* text = sqlite3_column_text(statement_.statement_, column);
  const int size = sqlite3_column_bytes(statement_.statement_, column);
  if (text == nullptr) return {};
  return {reinterpret_cast<const char*>(text), static_cast<std::size_t>(size)};
}

}  // namespace rindwatch::sqlite
