#include "daemon/store/notice_table.hpp"

#include <limits>

#include "daemon/store/sqlite/database.hpp"

namespace rindwatch {
namespace {

#define RINDWATCH_NOTICE_COLUMNS                                                                         \
  "number, key, made_at, hearer, way, address, kind, alarm, asked, nth, letter, state, tries, next_at, " \
  "done_at, within, why"

std::optional<std::int64_t> ToStored(const std::optional<rules::Instant>& at) {
  if (!at) return std::nullopt;
  return rules::ToMillis(*at);
}

std::optional<rules::Instant> InstantFrom(std::optional<std::int64_t> millis) {
  if (!millis) return std::nullopt;
  return rules::FromMillis(*millis);
}

NoticeRow RowFrom(const sqlite::Rows& rows) {
  NoticeRow row;
  row.number = rows.Int(0);
  row.key = rows.Text(1);
  row.made_at = rules::FromMillis(rows.Int(2));
  row.hearer = rows.Text(3);
  row.way = rows.Text(4);
  row.address = rows.Text(5);
  row.kind = rows.Text(6);
  row.alarm = rows.Text(7);
  row.asked = rules::FromMillis(rows.Int(8));
  row.nth = static_cast<int>(rows.Int(9));
  row.letter = rows.Text(10);
  row.state = rows.Text(11);
  row.tries = static_cast<int>(rows.Int(12));
  row.next_at = InstantFrom(rows.MaybeInt(13));
  row.done_at = InstantFrom(rows.MaybeInt(14));
  row.within = rows.MaybeInt(15).value_or(0);
  row.why = rows.Text(16);
  return row;
}

std::vector<NoticeRow> All(sqlite::Rows rows) {
  std::vector<NoticeRow> all;
  while (rows.Next()) all.push_back(RowFrom(rows));
  return all;
}

}  // namespace

NoticeTable::NoticeTable(sqlite::Database& database)
    : insert_(database,
              "INSERT INTO notice (key, made_at, hearer, way, address, kind, alarm, asked, nth, letter, state, tries, "
              "next_at, done_at, within, why) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) "
              // What is known stays; but where a row was written twice because the disk was full in between, the
              // outcome of the later one counts.
              "ON CONFLICT (key) DO UPDATE SET state = excluded.state, tries = excluded.tries, next_at = "
              "excluded.next_at, done_at = excluded.done_at, within = excluded.within, why = excluded.why "
              "WHERE excluded.state <> 'waiting' AND notice.state IN ('waiting', 'refused', 'handing')"),
      find_(database, "SELECT number FROM notice WHERE key = ?"),
      change_(database,
              "UPDATE notice SET key = ?, letter = ?, state = ?, tries = ?, next_at = ?, done_at = ?, within = ?, "
              "why = ? WHERE number = ?") {}

std::int64_t NoticeTable::WriteOne(const NoticeRow& row) {
  const std::optional<std::int64_t> within = row.within > 0 ? std::optional(row.within) : std::nullopt;
  const auto tries = static_cast<std::int64_t>(row.tries), nth = static_cast<std::int64_t>(row.nth);
  if (row.number > 0) {
    change_.Run(row.key, row.letter, row.state, tries, ToStored(row.next_at), ToStored(row.done_at), within, row.why,
                row.number);
    return row.number;
  }
  insert_.Run(row.key, rules::ToMillis(row.made_at), row.hearer, row.way, row.address, row.kind, row.alarm,
              rules::ToMillis(row.asked), nth, row.letter, row.state, tries, ToStored(row.next_at),
              ToStored(row.done_at), within, row.why);
  sqlite::Rows found = find_.Query(row.key);
  return found.Next() ? found.Int(0) : 0;
}

std::vector<std::int64_t> NoticeTable::Write(const std::vector<NoticeRow>& rows) {
  std::vector<std::int64_t> numbers;
  numbers.reserve(rows.size());
  for (const NoticeRow& row : rows) numbers.push_back(WriteOne(row));
  return numbers;
}

std::vector<NoticeRow> ReadNoticesSince(sqlite::Database& database, rules::Instant since) {
  sqlite::Statement rows(database, "SELECT " RINDWATCH_NOTICE_COLUMNS
                                   " FROM notice WHERE made_at >= ? OR state IN ('waiting', 'refused', 'handing') "
                                   "ORDER BY number");
  return All(rows.Query(rules::ToMillis(since)));
}

std::vector<NoticeRow> ReadNoticePage(sqlite::Database& database, std::int64_t before, std::size_t count) {
  sqlite::Statement rows(
      database, "SELECT " RINDWATCH_NOTICE_COLUMNS " FROM notice WHERE number < ? ORDER BY number DESC LIMIT ?");
  const std::int64_t end = before > 0 ? before : std::numeric_limits<std::int64_t>::max();
  return All(rows.Query(end, static_cast<std::int64_t>(count)));
}

}  // namespace rindwatch
