#include "daemon/store/journal_table.hpp"

#include <boost/json/serialize.hpp>
#include <limits>

#include "daemon/store/line_rows.hpp"

namespace rindwatch {
namespace {

std::optional<std::int64_t> ToStored(const std::optional<rules::Instant>& at) {
  if (!at) return std::nullopt;
  return rules::ToMillis(*at);
}

}  // namespace

JournalTable::JournalTable(sqlite::Database& database)
    : insert_line_(database,
                   "INSERT INTO journal (position, kept_at, id, kind, keeper, cave, wheels, at, tapped_at, said_at, "
                   "sent_at, received_at, late_entry, body, given, answer) "
                   "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"),
      insert_wheel_(database, "INSERT INTO act_wheel (position, ordinal, wheel) VALUES (?, ?, ?)"),
      insert_fact_(database,
                   "INSERT INTO fact (position, ordinal, subject_kind, subject, what, from_ms, value) "
                   "VALUES (?, ?, ?, ?, ?, ?, ?)"),
      find_(database, "SELECT " RINDWATCH_LINE_COLUMNS RINDWATCH_LINE_TEXTS " FROM journal WHERE id = ?") {}

void JournalTable::Insert(const JournalLine& line, rules::Instant kept_at, const std::vector<Fact>& facts) {
  insert_line_.Run(line.position, rules::ToMillis(kept_at), line.id, line.kind, line.keeper, line.cave,
                   WheelsToText(line.wheels), rules::ToMillis(line.at), ToStored(line.tapped_at),
                   ToStored(line.said_at), ToStored(line.sent_at), rules::ToMillis(line.received_at),
                   line.late_entry ? 1 : 0, line.body, line.given, line.answer);
  std::int64_t ordinal = 0;
  for (const rules::WheelId wheel : line.wheels) insert_wheel_.Run(line.position, ordinal++, wheel);
  ordinal = 0;
  for (const Fact& fact : facts)
    insert_fact_.Run(line.position, ordinal++, fact.subject_kind, fact.subject, fact.what, rules::ToMillis(fact.from),
                     boost::json::serialize(fact.value));
}

std::optional<JournalLine> JournalTable::Find(const std::string& id) {
  sqlite::Rows rows = find_.Query(id);
  if (!rows.Next()) return std::nullopt;
  return WholeFrom(rows);
}

std::vector<JournalLine> ReadJournalPage(sqlite::Database& database, std::int64_t before_position, std::size_t count) {
  sqlite::Statement page(database, "SELECT " RINDWATCH_LINE_COLUMNS RINDWATCH_LINE_TEXTS
                                   " FROM journal WHERE position < ? AND NOT (kind = 'alarm' AND EXISTS "
                                   "(SELECT 1 FROM misdated WHERE position BETWEEN first AND last)) "
                                   "ORDER BY position DESC LIMIT ?");
  const std::int64_t before = before_position > 0 ? before_position : std::numeric_limits<std::int64_t>::max();
  std::vector<JournalLine> lines;
  for (sqlite::Rows rows = page.Query(before, static_cast<std::int64_t>(count)); rows.Next();)
    lines.push_back(WholeFrom(rows));
  return lines;
}

}  // namespace rindwatch
