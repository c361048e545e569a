// Rolls back unless committed; never throws on the way out.
#pragma once

namespace rindwatch::sqlite {

class Database;

class Transaction {
 public:
  enum class Kind { kRead, kWrite };  // a write takes the write lock at once, so that no statement meets it later
  Transaction(Database& database, Kind kind);
  ~Transaction();
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;

  // Throws DatabaseError; then nothing was committed.
  void Commit();

 private:
  Database& database_;
};

}  // namespace rindwatch::sqlite
