#include "daemon/store/snapshot_table.hpp"

namespace rindwatch {

SnapshotTable::SnapshotTable(sqlite::Database& database)
    : database_(database),
      save_(database, "INSERT OR REPLACE INTO snapshot (position, at, rules_version, text) VALUES (?, ?, ?, ?)"),
      trim_(
          database,
          "DELETE FROM snapshot WHERE position NOT IN (SELECT position FROM snapshot ORDER BY position DESC LIMIT ?)"),
      newest_(database,
              "SELECT position, at, text FROM snapshot WHERE rules_version = ? ORDER BY position DESC LIMIT 1") {}

void SnapshotTable::Save(const Snapshot& snapshot) {
  save_.Run(snapshot.position, rules::ToMillis(snapshot.at), snapshot.rules_version, snapshot.text);
  trim_.Run(kStay);
}

void SnapshotTable::DropAfter(rules::Instant until) {
  sqlite::Statement(database_, "DELETE FROM snapshot WHERE at > ?").Run(rules::ToMillis(until));
}

std::optional<Snapshot> SnapshotTable::Newest(int rules_version) {
  sqlite::Rows rows = newest_.Query(rules_version);
  if (!rows.Next()) return std::nullopt;
  return Snapshot{rows.Int(0), rules::FromMillis(rows.Int(1)), rules_version, rows.Text(2)};
}

}  // namespace rindwatch
