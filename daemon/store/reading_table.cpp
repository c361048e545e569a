#include "daemon/store/reading_table.hpp"

#include "daemon/store/sqlite/database.hpp"

namespace rindwatch {
namespace {

// Fingerprints are unsigned, SQLite's integers are not; the bits are kept.
std::int64_t ToStored(std::uint64_t fingerprint) { return static_cast<std::int64_t>(fingerprint); }
std::uint64_t FromStored(std::int64_t stored) { return static_cast<std::uint64_t>(stored); }

}  // namespace

ReadingTable::ReadingTable(sqlite::Database& database)
    : database_(database),
      own_value_(database, "SELECT milli FROM reading WHERE measured_at = ? AND channel = ? AND source = 1"),
      insert_(
          database,
          "INSERT INTO reading (position, ordinal, kept_at, channel, measured_at, received_at, milli, source, marks) "
          "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)"),
      remember_(database,
                "INSERT INTO last_message (topic, fingerprint) VALUES (?, ?) "
                "ON CONFLICT (topic) DO UPDATE SET fingerprint = excluded.fingerprint "
                "WHERE fingerprint <> excluded.fingerprint"),
      sum_up_(database,
              "INSERT INTO channel_newest (channel, measured_at) "
              "SELECT channel, max(measured_at) FROM reading "
              "WHERE position > (SELECT position FROM reading_summed) AND position <= ? AND (marks & 2) = 0 "
              "GROUP BY channel "
              "ON CONFLICT (channel) DO UPDATE SET measured_at = excluded.measured_at "
              "WHERE measured_at < excluded.measured_at"),
      summed_(database, "UPDATE reading_summed SET position = ? WHERE position < ?") {}

std::optional<std::int64_t> ReadingTable::OwnValue(rules::ChannelId channel, rules::Instant measured_at) {
  sqlite::Rows rows = own_value_.Query(rules::ToMillis(measured_at), channel);
  if (!rows.Next()) return std::nullopt;
  return rows.Int(0);
}

void ReadingTable::Insert(std::int64_t position, std::int64_t ordinal, rules::Instant kept_at,
                          const rules::Reading& reading) {
  insert_.Run(position, ordinal, rules::ToMillis(kept_at), reading.channel, rules::ToMillis(reading.measured_at),
              rules::ToMillis(reading.received_at), reading.milli, static_cast<std::int64_t>(reading.source),
              static_cast<std::int64_t>(reading.marks));
}

void ReadingTable::RememberMessage(const std::string& topic, std::uint64_t fingerprint) {
  remember_.Run(topic, ToStored(fingerprint));
}

void ReadingTable::SumUp(std::int64_t position) {
  sum_up_.Run(position);
  summed_.Run(position, position);
}

void ReadingTable::CapNewest(rules::Instant until) {
  sqlite::Statement cap(database_, "UPDATE channel_newest SET measured_at = ?1 WHERE measured_at > ?1");
  cap.Run(rules::ToMillis(until));
}

LastKnown ReadingTable::ReadLastKnown() {
  LastKnown known;
  sqlite::Statement newest(database_,
                           "SELECT channel, max(measured_at) FROM ("
                           "  SELECT channel, measured_at FROM channel_newest UNION ALL"
                           "  SELECT channel, measured_at FROM reading"
                           "  WHERE position > (SELECT position FROM reading_summed) AND (marks & 2) = 0"
                           ") GROUP BY channel ORDER BY channel");
  for (sqlite::Rows rows = newest.Query(); rows.Next();)
    known.newest.emplace_back(rows.Int(0), rules::FromMillis(rows.Int(1)));
  sqlite::Statement messages(database_, "SELECT topic, fingerprint FROM last_message ORDER BY topic");
  for (sqlite::Rows rows = messages.Query(); rows.Next();)
    known.fingerprints.emplace_back(rows.Text(0), FromStored(rows.Int(1)));
  return known;
}

}  // namespace rindwatch
