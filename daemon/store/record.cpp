#include "daemon/store/record.hpp"

#include "daemon/store/input_scan.hpp"
#include "daemon/store/line_rows.hpp"
#include "daemon/store/misdated.hpp"
#include "daemon/store/read_ahead.hpp"
#include "daemon/store/schema.hpp"
#include "daemon/store/sqlite/error.hpp"

namespace rindwatch {
namespace {

// Foreign codes become a sentence at this one place.
template <typename Read>
auto Translated(Read read) {
  try {
    return read();
  } catch (const sqlite::DatabaseError& error) {
    throw StoreError(error.what());
  }
}

std::optional<rules::Instant> MaybeInstant(std::int64_t milliseconds) {
  return milliseconds > 0 ? std::optional{rules::FromMillis(milliseconds)} : std::nullopt;
}

class SqliteRecord final : public Record {
 public:
  explicit SqliteRecord(const std::string& path) : database_(path, sqlite::Database::Access::kReadOnly) {
    CheckReadable(database_);
  }

  void ReadFacts(rules::Instant since, const std::function<void(const JournalLine&, const Fact&)>& visit) override {
    Translated([&] {
      const std::int64_t last = LastPositionBefore(database_, "journal", since);
      ScanFacts(database_, [&](const JournalLine& line, const Fact& fact) {
        if (line.position <= last) visit(line, fact);
      });
    });
  }
  void ReadInputs(rules::Instant since, const VisitInput& visit) override {
    Translated([&] { ReadAhead([&](const VisitInput& give) { ScanInputsWhile(database_, 0, since, give); }, visit); });
  }
  void ReadLines(const std::string& kind, const std::function<void(const JournalLine&)>& visit) override {
    Translated([&] {
      sqlite::Statement lines(database_, "SELECT " RINDWATCH_LINE_COLUMNS RINDWATCH_LINE_TEXTS
                                         " FROM journal WHERE kind = ? ORDER BY position");
      const Misdated misdated = Misdated::In(database_);
      for (sqlite::Rows rows = lines.Query(kind); rows.Next();) {
        // What rang by a clock that was ahead rang at a time that never was.
        if (kind != "alarm" || !misdated.Of(rows.Int(0))) visit(WholeFrom(rows));
      }
    });
  }
  std::optional<rules::Instant> First() override {
    return Translated([&] {
      return MaybeInstant(database_.AskInt(
          "SELECT min(kept_at) FROM (SELECT kept_at FROM (SELECT kept_at FROM reading ORDER BY position LIMIT 1) "
          "UNION ALL SELECT kept_at FROM (SELECT kept_at FROM journal ORDER BY position LIMIT 1))"));
    });
  }
  std::optional<rules::Instant> Last() override {
    return Translated([&] {
      const LastKept last = ReadLastKept(database_);
      return last.position > 0 ? std::optional{last.at} : std::nullopt;
    });
  }

 private:
  sqlite::Database database_;
};

}  // namespace

std::unique_ptr<Record> Record::Open(const std::string& path) {
  return Translated([&] { return std::make_unique<SqliteRecord>(path); });
}

}  // namespace rindwatch
