// The writing connection: what it writes gets the next positions. Used by one thread at a time; knows no queue and
// asks no clock.
#pragma once

#include <memory>
#include <unordered_map>

#include "daemon/store/input_scan.hpp"
#include "daemon/store/journal_table.hpp"
#include "daemon/store/notice_table.hpp"
#include "daemon/store/reading_table.hpp"
#include "daemon/store/snapshot_table.hpp"
#include "daemon/store/sqlite/database.hpp"
#include "daemon/store/sqlite/transaction.hpp"
#include "daemon/store/store.hpp"

namespace rindwatch {

class Ledger {
 public:
  // What became of a batch: for whoever kept it, and for the loop (nothing if all of it was known).
  struct KeptBatch {
    sensors::KeepResult result;
    std::int64_t position = 0;
    std::vector<rules::Reading> readings;
  };
  enum class Durability {
    kProcess,  // survives the end of the process; a power cut takes what was not synced
    kPower,    // on disk before Commit returns
  };

  // Opens, migrates, checks. Throws StoreError or DatabaseError.
  Ledger(const std::string& path, Purpose purpose, rules::Instant now);

  // ---- writing: Begin, any of the five, Commit; an exception or RollBack undoes all since Begin ----
  void Begin(rules::Instant wall, Durability durability);
  // `repeat`: mark what does not name its own time as a repeat.
  KeptBatch Keep(const sensors::Batch& batch, bool repeat);
  // Gives the line its position.
  AppendResult Append(JournalLine& line, const std::vector<Fact>& facts);
  void Save(const Snapshot& snapshot);
  std::vector<std::int64_t> Write(const std::vector<NoticeRow>& rows) { return notices_.Write(rows); }
  void SumUp();
  // This machine's clock was ahead and is right now: what was kept after `wall` is misdated, and what comes is kept
  // from `wall` on. Outside a transaction.
  void SetBack(rules::Instant wall);
  void Commit();
  void RollBack() noexcept;
  // Takes the write lock and gives it back. Throws DatabaseError if another program holds it. Outside a transaction.
  void TryToWrite();

  // ---- asking ----
  std::optional<JournalLine> Find(const std::string& id) { return journal_.Find(id); }
  std::optional<Snapshot> NewestSnapshot(int rules_version) { return snapshots_.Newest(rules_version); }
  LastKnown ReadLastKnown() { return readings_.ReadLastKnown(); }
  sqlite::Database& Connection() { return *database_; }

  std::int64_t Position() const { return last_.position; }  // the newest given
  // `wall`, or the newest instant given if the wall clock went back and nobody knows yet which was right.
  rules::Instant Held(rules::Instant wall) const { return std::max(wall, last_.at); }

  void Sync() { database_->SyncLog(); }
  void Checkpoint(bool truncate) { database_->Checkpoint(truncate); }

 private:
  sensors::Kept KeepOne(rules::Reading reading, std::int64_t ordinal, KeptBatch& kept);
  void RememberMessage(const sensors::Batch& batch);
  void SetDurability(Durability durability);

  static std::unique_ptr<sqlite::Database> Open(const std::string& path, Purpose purpose, rules::Instant now);

  std::unique_ptr<sqlite::Database> database_;
  ReadingTable readings_;
  JournalTable journal_;
  SnapshotTable snapshots_;
  NoticeTable notices_;

  LastKept last_;                                            // of what is committed
  std::optional<Durability> durability_;                     // what the connection is set to
  std::unordered_map<std::string, std::uint64_t> messages_;  // fingerprints that are stored already

  // Of the open transaction.
  std::unique_ptr<sqlite::Transaction> transaction_;
  LastKept next_;
};

}  // namespace rindwatch
