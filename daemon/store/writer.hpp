// Turns what waits into one transaction and tells everyone what became of it, in the order of the commits.
// Used by one thread at a time; time of the wall comes from the clock, real time is handed in.
#pragma once

#include <functional>
#include <span>
#include <string>
#include <unordered_map>
#include <variant>
#include <vector>

#include "daemon/store/health_board.hpp"
#include "daemon/store/jobs.hpp"
#include "daemon/store/ledger.hpp"
#include "daemon/store/sync_window.hpp"

namespace rindwatch {

class Writer {
 public:
  // `clock`, `post` and `board` outlive it. Throws StoreError or DatabaseError.
  Writer(const Store::Settings& settings, const rules::Clock& clock, const Store::Post& post, HealthBoard& board);

  // Before anything is handled: see Store::SetBack. Throws DatabaseError.
  void SetBack(rules::Instant wall);
  // Readings and lines committed from now on reach `inbox`, posted.
  void SetInbox(std::function<void(Committed)> inbox);

  // Never throws for what the disk does: what cannot be written is refused.
  void Handle(std::vector<Job> jobs, SteadyTime now);
  // Keeps the promise about power cuts; call it at SyncDeadline.
  void SyncIfDue(SteadyTime now);
  std::optional<SteadyTime> SyncDeadline() const { return window_.Deadline(); }
  // At the end: all on disk, the log moved into the file.
  void Finish(SteadyTime now);

  Ledger& GetLedger() { return ledger_; }

 private:
  // What became of one job: nothing (a question, or a batch that nobody waits for), or as its kind says.
  using Outcome = std::variant<std::monostate, Ledger::KeptBatch, AppendResult, bool, std::vector<std::int64_t>>;
  using Jobs = std::span<Job>;
  using Outcomes = std::span<Outcome>;

  void Write(Jobs jobs, Outcomes outcomes, SteadyTime now);
  void WriteTogether(Jobs jobs, Outcomes outcomes, SteadyTime now);
  void WriteOne(Job& job, Outcome& outcome);
  void OnCommitted(Ledger::Durability durability, std::int64_t position_before, SteadyTime now);
  void Refuse(Jobs jobs, Outcomes outcomes, const std::string& why);
  void OnFailure(const std::exception& error, SteadyTime now);
  void Sync(SteadyTime now);
  void MeasureFiles();

  // One a kind of job.
  void Tell(KeepJob& job, Outcome& outcome);
  void Tell(AppendJob& job, Outcome& outcome);
  void Tell(SaveJob& job, Outcome& outcome);
  void Tell(NoticeJob& job, Outcome& outcome);
  void Tell(FindJob& job, Outcome& outcome);
  void Tell(TickJob& job, Outcome& outcome);
  void Tell(PingJob& job, Outcome& outcome);
  void Tell(TryJob& job, Outcome& outcome);
  void PostCommitted(Committed committed);
  bool IsLate(const sensors::Batch& batch) const;
  void RememberIfLate(const sensors::Batch& batch, bool answered);

  const std::string path_;
  const rules::Clock& clock_;
  const Store::Post& post_;
  HealthBoard& board_;
  Ledger ledger_;
  SyncWindow window_;
  bool sync_failed_ = false;  // until a sync succeeds nothing is promised

  std::shared_ptr<std::function<void(Committed)>> inbox_;
  std::int64_t told_ = 0;  // the newest position that was posted
  rules::Instant at_;      // of what is handled now; never goes back
  // Topic and fingerprint of batches that were written after their thread had given up: they were not acknowledged
  // and come again, without anybody else knowing that they are repeats.
  std::unordered_map<std::string, std::uint64_t> late_;
};

}  // namespace rindwatch
