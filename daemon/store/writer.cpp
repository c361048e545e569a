#include "daemon/store/writer.hpp"

#include <algorithm>
#include <filesystem>

#include "daemon/store/sqlite/error.hpp"

namespace rindwatch {
namespace {

using Durability = Ledger::Durability;

// A journal line is answered only when it is on disk; everything that went before it in the log is then too.
Durability NeededBy(std::span<const Job> jobs) {
  // What is to be said, or was, is as little forgotten.
  const bool line = std::ranges::any_of(jobs, [](const Job& job) {
    return std::holds_alternative<AppendJob>(job) || std::holds_alternative<NoticeJob>(job);
  });
  return line ? Durability::kPower : Durability::kProcess;
}

bool Changes(const Job& job) {
  return IsWrite(job) || std::holds_alternative<SaveJob>(job) || std::holds_alternative<NoticeJob>(job);
}

// A large part may not fit where a small one does, and what is at fault itself must not take its neighbours along.
// A locked or failing disk would only be waited for once more.
bool IsWorthTryingSingly(const std::exception& error) {
  const auto* database_error = dynamic_cast<const sqlite::DatabaseError*>(&error);
  return database_error == nullptr || database_error->Kind() == sqlite::ErrorKind::kFull ||
         database_error->Kind() == sqlite::ErrorKind::kOther;
}

}  // namespace

Writer::Writer(const Store::Settings& settings, const rules::Clock& clock, const Store::Post& post, HealthBoard& board)
    : path_(settings.path),
      clock_(clock),
      post_(post),
      board_(board),
      ledger_(settings.path, settings.purpose, clock.Wall()),
      window_(settings.sync_window),
      told_(ledger_.Position()),
      at_(ledger_.Held(clock.Wall())) {
  MeasureFiles();
}

void Writer::SetBack(rules::Instant wall) {
  ledger_.SetBack(wall);
  at_ = wall;
}

void Writer::SetInbox(std::function<void(Committed)> inbox) {
  inbox_ = std::make_shared<std::function<void(Committed)>>(std::move(inbox));
}

void Writer::Handle(std::vector<Job> jobs, SteadyTime now) {
  at_ = std::max(at_, clock_.Wall());
  std::vector<Outcome> outcomes(jobs.size());
  if (std::ranges::any_of(jobs, Changes)) {
    Write(jobs, outcomes, now);
    MeasureFiles();
  }
  for (std::size_t i = 0; i < jobs.size(); ++i) std::visit([&](auto& job) { Tell(job, outcomes[i]); }, jobs[i]);
}

void Writer::Write(Jobs jobs, Outcomes outcomes, SteadyTime now) {
  try {
    WriteTogether(jobs, outcomes, now);
  } catch (const std::exception& error) {
    ledger_.RollBack();
    std::ranges::fill(outcomes, Outcome());
    if (jobs.size() > 1 && IsWorthTryingSingly(error)) {
      for (std::size_t i = 0; i < jobs.size(); ++i) Write(jobs.subspan(i, 1), outcomes.subspan(i, 1), now);
      return;
    }
    OnFailure(error, now);
    Refuse(jobs, outcomes, error.what());
  }
}

void Writer::WriteTogether(Jobs jobs, Outcomes outcomes, SteadyTime now) {
  if (std::ranges::none_of(jobs, Changes)) return;
  if (sync_failed_) Sync(now);
  const Durability durability = NeededBy(jobs);
  const std::int64_t position_before = ledger_.Position();
  ledger_.Begin(at_, durability);
  for (std::size_t i = 0; i < jobs.size(); ++i) WriteOne(jobs[i], outcomes[i]);
  ledger_.Commit();
  OnCommitted(durability, position_before, now);
}

void Writer::WriteOne(Job& job, Outcome& outcome) {
  if (auto* keep = std::get_if<KeepJob>(&job)) {
    // Nobody waits: it will come again, and must not be there already.
    if (keep->waiting->Begin()) outcome = ledger_.Keep(keep->waiting->batch, IsLate(keep->waiting->batch));
  } else if (auto* append = std::get_if<AppendJob>(&job)) {
    outcome = ledger_.Append(append->line, append->facts);
  } else if (auto* save = std::get_if<SaveJob>(&job)) {
    ledger_.Save(save->snapshot);
    outcome = true;
  } else if (auto* notices = std::get_if<NoticeJob>(&job)) {
    outcome = ledger_.Write(notices->rows);
  }
}

void Writer::OnCommitted(Durability durability, std::int64_t position_before, SteadyTime now) {
  board_.OnWriting();
  // Nothing that was promised is new: what the commit wrote besides needs no window.
  if (ledger_.Position() == position_before) return;
  if (durability == Durability::kPower)
    window_.OnSynced();
  else
    window_.OnUnsynced(now);
}

void Writer::Refuse(Jobs jobs, Outcomes outcomes, const std::string& why) {
  for (std::size_t i = 0; i < jobs.size(); ++i) {
    if (std::holds_alternative<KeepJob>(jobs[i])) outcomes[i] = Ledger::KeptBatch();
    if (std::holds_alternative<AppendJob>(jobs[i]))
      outcomes[i] = AppendResult{AppendResult::Kind::kRefused, "", why, 0};
    if (std::holds_alternative<SaveJob>(jobs[i])) outcomes[i] = false;
  }
}

void Writer::OnFailure(const std::exception& error, SteadyTime now) {
  board_.OnFailed(error.what());
  // What the log took before may be lost in the kernel after a failed write-back.
  const auto* database_error = dynamic_cast<const sqlite::DatabaseError*>(&error);
  if (database_error == nullptr || database_error->Kind() != sqlite::ErrorKind::kDisk) return;
  sync_failed_ = true;
  window_.OnFailed(now);
}

void Writer::Sync(SteadyTime now) {
  try {
    ledger_.Sync();
    window_.OnSynced();
    sync_failed_ = false;
  } catch (const sqlite::DatabaseError&) {
    sync_failed_ = true;
    window_.OnFailed(now);
    throw;
  }
}

void Writer::SyncIfDue(SteadyTime now) {
  if (!window_.IsDue(now)) return;
  const bool failed_before = sync_failed_;
  try {
    Sync(now);
    if (failed_before) board_.OnWriting();
  } catch (const std::exception& error) {
    board_.OnFailed(error.what());
  }
}

void Writer::Finish(SteadyTime now) {
  try {
    Sync(now);
    ledger_.Begin(at_, Durability::kPower);
    ledger_.SumUp();
    ledger_.Commit();
    ledger_.Checkpoint(true);
  } catch (const std::exception& error) {
    // What was acknowledged is in the log; the next start reads it from there.
    ledger_.RollBack();
    board_.OnFailed(error.what());
  }
  MeasureFiles();
}

void Writer::MeasureFiles() {
  std::int64_t bytes = 0;
  for (const char* suffix : {"", "-wal"}) {
    std::error_code missing;
    const auto size = std::filesystem::file_size(path_ + suffix, missing);
    if (!missing) bytes += static_cast<std::int64_t>(size);
  }
  board_.OnSize(bytes);
}

}  // namespace rindwatch
