// The half of the writer that tells: after the commit, each job in its turn.
#include <utility>

#include "daemon/store/writer.hpp"

namespace rindwatch {

void Writer::PostCommitted(Committed committed) {
  told_ = committed.position;
  if (!inbox_) return;  // nobody listens yet; a start reads what was kept from the file
  post_([inbox = inbox_, committed = std::move(committed)] { (*inbox)(committed); });
}

void Writer::Tell(KeepJob& job, Outcome& outcome) {
  auto* kept = std::get_if<Ledger::KeptBatch>(&outcome);
  if (kept == nullptr) return;  // its thread had given up before the write
  const auto count = static_cast<std::int64_t>(kept->readings.size());
  if (count > 0) PostCommitted({kept->position, at_, std::move(kept->readings)});
  const bool stored = kept->result.kept;
  if (stored)
    board_.OnKept(count, 0);
  else
    board_.OnRefused();
  const bool answered = job.waiting->Answer(std::move(kept->result));
  if (stored) RememberIfLate(job.waiting->batch, answered);
}

bool Writer::IsLate(const sensors::Batch& batch) const {
  if (batch.fingerprint == 0) return false;
  const auto late = late_.find(batch.topic);
  return late != late_.end() && late->second == batch.fingerprint;
}

void Writer::RememberIfLate(const sensors::Batch& batch, bool answered) {
  if (answered || batch.fingerprint == 0)
    late_.erase(batch.topic);
  else
    late_[batch.topic] = batch.fingerprint;
}

void Writer::Tell(AppendJob& job, Outcome& outcome) {
  AppendResult result = std::get<AppendResult>(std::move(outcome));
  if (result.kind == AppendResult::Kind::kWritten) {
    board_.OnKept(0, 1);
    PostCommitted({result.position, at_, std::move(job.line)});
  }
  if (result.kind == AppendResult::Kind::kRefused) board_.OnRefused();
  if (job.done) post_([done = std::move(job.done), result = std::move(result)] { done(result); });
}

void Writer::Tell(SaveJob& job, Outcome& outcome) {
  if (job.done) post_([done = std::move(job.done), saved = std::get<bool>(outcome)] { done(saved); });
}

void Writer::Tell(NoticeJob& job, Outcome& outcome) {
  std::vector<std::int64_t> numbers;  // none if it was refused
  if (auto* written = std::get_if<std::vector<std::int64_t>>(&outcome)) numbers = std::move(*written);
  if (job.done) post_([done = std::move(job.done), numbers = std::move(numbers)] { done(numbers); });
}

void Writer::Tell(FindJob& job, Outcome&) {
  std::optional<JournalLine> line;
  try {
    line = ledger_.Find(job.id);
  } catch (const std::exception& error) {
    // Not found is a safe answer: the line is looked for again before it could be written twice.
    board_.OnFailed(error.what());
  }
  post_([done = std::move(job.done), line = std::move(line)] { done(line); });
}

void Writer::Tell(TickJob&, Outcome&) { PostCommitted({told_, at_, Committed::Tick{}}); }

void Writer::Tell(PingJob& job, Outcome&) { post_(std::move(job.done)); }

void Writer::Tell(TryJob& job, Outcome&) {
  bool may = true;
  try {
    ledger_.TryToWrite();
  } catch (const std::exception&) {
    // How the store is, what was to be kept tells: a try that succeeds later would not take it back.
    may = false;
  }
  post_([done = std::move(job.done), may] { done(may); });
}

}  // namespace rindwatch
