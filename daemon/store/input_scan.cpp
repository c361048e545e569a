#include "daemon/store/input_scan.hpp"

#include <boost/json/parse.hpp>
#include <limits>
#include <string>

#include "daemon/store/line_rows.hpp"
#include "daemon/store/misdated.hpp"
#include "daemon/store/sqlite/statement.hpp"

namespace rindwatch {
namespace {

constexpr const char* kReadings =
    "SELECT position, ordinal, kept_at, channel, measured_at, received_at, milli, source, marks FROM reading "
    "WHERE position > ? ORDER BY position";
constexpr const char* kLines =
    "SELECT " RINDWATCH_LINE_COLUMNS RINDWATCH_LINE_TEXTS " FROM journal WHERE position > ? ORDER BY position";

rules::Reading ReadingFrom(const sqlite::Rows& rows) {
  rules::Reading reading;
  reading.channel = rows.Int(3);
  reading.measured_at = rules::FromMillis(rows.Int(4));
  reading.received_at = rules::FromMillis(rows.Int(5));
  reading.milli = rows.Int(6);
  reading.source = static_cast<rules::TimeSource>(rows.Int(7));
  reading.marks = static_cast<rules::Marks>(rows.Int(8));
  return reading;
}

// Steps through the messages: the readings from one ordinal 0 to the next, under the position of the last of them.
// Those of a clock that was ahead are left out, but for what was held after it was set back.
class MessageScan {
 public:
  MessageScan(sqlite::Database& database, std::int64_t after_position, const Misdated& misdated)
      : misdated_(misdated),
        statement_(database, kReadings),
        rows_(statement_.Query(after_position)),
        more_(rows_.Next()) {}

  bool Next(Committed& message) {
    while (more_ && !misdated_.Empty() && !IsRight()) more_ = rows_.Next();
    if (!more_) return false;
    // Years of them are read: what held the one before holds this one.
    auto* readings = std::get_if<std::vector<rules::Reading>>(&message.what);
    if (!readings) readings = &message.what.emplace<std::vector<rules::Reading>>();
    readings->clear();
    message.at = misdated_.RightTime(rows_.Int(0), rules::FromMillis(rows_.Int(2)));
    do {
      message.position = rows_.Int(0);
      readings->push_back(ReadingFrom(rows_));
      more_ = rows_.Next();
    } while (more_ && rows_.Int(1) != 0);
    return true;
  }

 private:
  bool IsRight() const {
    const Misdated::Span* const span = misdated_.Of(rows_.Int(0));
    const bool held = rows_.Int(7) == static_cast<std::int64_t>(rules::TimeSource::kHeld);
    return span == nullptr || (held && rules::FromMillis(rows_.Int(4)) <= span->until);
  }

  const Misdated& misdated_;
  sqlite::Statement statement_;
  sqlite::Rows rows_;
  bool more_;
};

// Lines stand whenever they were written; the watch sees them at an instant that was.
class LineScan {
 public:
  LineScan(sqlite::Database& database, std::int64_t after_position, const Misdated& misdated)
      : misdated_(misdated), statement_(database, kLines), rows_(statement_.Query(after_position)) {}

  // What was decided by a clock that was ahead is passed over.
  bool Next(Committed& committed) {
    JournalLine line;
    do {
      if (!rows_.Next()) return false;
      line = WholeFrom(rows_);
    } while (line.kind == "alarm" && misdated_.Of(line.position) != nullptr);
    committed.position = line.position;
    committed.at = misdated_.RightTime(line.position, rules::FromMillis(rows_.Int(kKeptAtColumn)));
    committed.what = std::move(line);
    return true;
  }

 private:
  const Misdated& misdated_;
  sqlite::Statement statement_;
  sqlite::Rows rows_;
};

// Nobody watched by a right clock since what was kept last before it: as if the watch had ended then.
Committed StoppedBefore(const Committed& line, rules::Instant at) {
  Committed stopped;
  stopped.position = line.position;
  stopped.at = std::min(at, line.at);
  JournalLine ended;
  ended.position = line.position;
  ended.kind = "stopped";
  ended.at = ended.received_at = stopped.at;
  ended.body = "{}";
  stopped.what = std::move(ended);
  return stopped;
}

std::int64_t StartOf(sqlite::Database& database, const std::string& table, std::int64_t after_position,
                     std::optional<rules::Instant> since) {
  return since ? std::max(after_position, LastPositionBefore(database, table, *since)) : after_position;
}

boost::json::value ParseFact(const std::string& text, std::int64_t position) {
  boost::system::error_code error;
  boost::json::value value = boost::json::parse(text, error);
  if (error)
    throw StoreError("A fact of journal line " + std::to_string(position) + " holds \"" + text +
                     "\" where JSON stood: the file was changed by something else; put back the last backup.");
  return value;
}

}  // namespace

// kept_at goes back only where a clock was set back, so the first position of a table that was kept at or after an
// instant is found by halving: there either side of what is misdated will do.
std::int64_t LastPositionBefore(sqlite::Database& database, const std::string& table, rules::Instant since) {
  sqlite::Statement at_or_after(
      database, ("SELECT position, kept_at FROM " + table + " WHERE position >= ? ORDER BY position LIMIT 1").c_str());
  std::int64_t low = 0;  // everything up to here was kept before
  std::int64_t high = database.AskInt(("SELECT max(position) FROM " + table).c_str()) + 1;
  while (high - low > 1) {
    const std::int64_t middle = low + (high - low) / 2;
    sqlite::Rows rows = at_or_after.Query(middle);
    const bool before = rows.Next() && rules::FromMillis(rows.Int(1)) < since;
    if (before)
      low = rows.Int(0);
    else
      high = middle;
  }
  return low;
}

LastKept ReadLastKept(sqlite::Database& database) {
  sqlite::Statement newest(database,
                           "SELECT position, kept_at FROM (SELECT position, kept_at FROM "
                           "(SELECT position, kept_at FROM reading ORDER BY position DESC LIMIT 1) UNION ALL "
                           "SELECT position, kept_at FROM "
                           "(SELECT position, kept_at FROM journal ORDER BY position DESC LIMIT 1)) "
                           "ORDER BY position DESC LIMIT 1");
  sqlite::Rows rows = newest.Query();
  if (!rows.Next()) return {};
  return {rows.Int(0), rules::FromMillis(rows.Int(1))};
}

void ScanInputs(sqlite::Database& database, std::int64_t after_position, std::optional<rules::Instant> since,
                const std::function<void(const Committed&)>& visit) {
  ScanInputsWhile(database, after_position, since, [&](const Committed& kept) {
    visit(kept);
    return true;
  });
}

void ScanInputsWhile(sqlite::Database& database, std::int64_t after_position, std::optional<rules::Instant> since,
                     const std::function<bool(const Committed&)>& visit) {
  const Misdated misdated = Misdated::In(database);
  MessageScan messages(database, StartOf(database, "reading", after_position, since), misdated);
  LineScan lines(database, StartOf(database, "journal", after_position, since), misdated);
  Committed message, line;
  bool has_message = messages.Next(message), has_line = lines.Next(line);
  std::optional<rules::Instant> right;    // of what was given last and bears a right time
  const Misdated::Span* ahead = nullptr;  // the span of which a line was given last
  while (has_message || has_line) {
    if (has_message && (!has_line || message.position < line.position)) {
      if (misdated.Empty() || !misdated.Of(message.position)) right = message.at;
      if (!visit(message)) return;
      has_message = messages.Next(message);
    } else {
      const Misdated::Span* const span = misdated.Of(line.position);
      if (!span) right = line.at;
      if (span != nullptr && span != ahead && !visit(StoppedBefore(line, right.value_or(line.at)))) return;
      ahead = span;
      if (!visit(line)) return;
      has_line = lines.Next(line);
    }
  }
}

std::optional<Committed> ReadNewest(sqlite::Database& database) {
  // The newest message begins at the last ordinal 0; a line may be newer.
  sqlite::Statement before(database,
                           "SELECT max(ifnull((SELECT position FROM reading WHERE ordinal = 0 AND position < ?1 "
                           "ORDER BY position DESC LIMIT 1), 0), ifnull((SELECT position FROM journal "
                           "WHERE position < ?1 ORDER BY position DESC LIMIT 1), 0))");
  const auto newest_before = [&before](std::int64_t position) {
    sqlite::Rows rows = before.Query(position);
    return rows.Next() ? rows.Int(0) : 0;
  };
  std::int64_t position = newest_before(std::numeric_limits<std::int64_t>::max());
  const Misdated misdated = Misdated::In(database);
  while (const Misdated::Span* span = misdated.Of(position)) position = newest_before(span->first);
  std::optional<Committed> newest;
  if (position == 0) return newest;
  ScanInputsWhile(database, position - 1, std::nullopt, [&](const Committed& kept) {
    if (!misdated.Of(kept.position)) newest = kept;
    return true;
  });
  return newest;
}

void ScanFacts(sqlite::Database& database, const std::function<void(const JournalLine&, const Fact&)>& visit) {
  sqlite::Statement facts(database, "SELECT " RINDWATCH_LINE_COLUMNS
                                    ", fact.subject_kind, fact.subject, fact.what, fact.from_ms, fact.value "
                                    "FROM fact JOIN journal ON journal.position = fact.position "
                                    "ORDER BY fact.position, fact.ordinal");
  const Misdated misdated = Misdated::In(database);
  for (sqlite::Rows rows = facts.Query(); rows.Next();) {
    const int at = kLineColumnCount;
    Fact fact;
    fact.subject_kind = rows.Text(at);
    fact.subject = rows.Int(at + 1);
    fact.what = rows.Text(at + 2);
    fact.from = rules::FromMillis(rows.Int(at + 3));
    fact.value = ParseFact(rows.Text(at + 4), rows.Int(0));
    // What rang by a clock that was ahead rang at a time that never was; what stands is decided anew.
    if (fact.subject_kind == "alarm" && fact.what == "change" && misdated.Of(rows.Int(0))) continue;
    visit(HeadFrom(rows), fact);
  }
}

}  // namespace rindwatch
