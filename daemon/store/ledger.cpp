#include "daemon/store/ledger.hpp"

#include "daemon/store/misdated.hpp"
#include "daemon/store/schema.hpp"

namespace rindwatch {

std::unique_ptr<sqlite::Database> Ledger::Open(const std::string& path, Purpose purpose, rules::Instant now) {
  auto database = std::make_unique<sqlite::Database>(path, sqlite::Database::Access::kCreate);
  CheckOurs(*database);
  BringUpToDate(*database);
  CheckPurpose(*database, purpose, now);
  return database;
}

Ledger::Ledger(const std::string& path, Purpose purpose, rules::Instant now)
    : database_(Open(path, purpose, now)),
      readings_(*database_),
      journal_(*database_),
      snapshots_(*database_),
      notices_(*database_),
      last_(ReadLastKept(*database_)) {}

void Ledger::SetDurability(Durability durability) {
  if (durability_ == durability) return;
  database_->Execute(durability == Durability::kPower ? "PRAGMA synchronous = FULL" : "PRAGMA synchronous = NORMAL");
  durability_ = durability;
}

void Ledger::Begin(rules::Instant wall, Durability durability) {
  SetDurability(durability);
  transaction_ = std::make_unique<sqlite::Transaction>(*database_, sqlite::Transaction::Kind::kWrite);
  next_ = {last_.position, Held(wall)};
}

void Ledger::Commit() {
  transaction_->Commit();
  transaction_.reset();
  last_ = next_;
}

void Ledger::TryToWrite() { const sqlite::Transaction lock(*database_, sqlite::Transaction::Kind::kWrite); }

void Ledger::RollBack() noexcept {
  transaction_.reset();
  messages_.clear();  // some of them may not be stored now
}

sensors::Kept Ledger::KeepOne(rules::Reading reading, std::int64_t ordinal, KeptBatch& kept) {
  if (reading.source == rules::TimeSource::kOwn)
    if (const auto first = readings_.OwnValue(reading.channel, reading.measured_at))
      return *first == reading.milli ? sensors::Kept::kSame : sensors::Kept::kConflict;
  readings_.Insert(++next_.position, ordinal, next_.at, reading);
  kept.readings.push_back(reading);
  return sensors::Kept::kNew;
}

void Ledger::RememberMessage(const sensors::Batch& batch) {
  if (batch.topic.empty() || batch.fingerprint == 0) return;
  const auto known = messages_.find(batch.topic);
  if (known != messages_.end() && known->second == batch.fingerprint) return;
  readings_.RememberMessage(batch.topic, batch.fingerprint);
  messages_[batch.topic] = batch.fingerprint;
}

Ledger::KeptBatch Ledger::Keep(const sensors::Batch& batch, bool repeat) {
  KeptBatch kept;
  for (rules::Reading reading : batch.readings) {
    if (repeat && reading.source != rules::TimeSource::kOwn) reading.marks = With(reading.marks, rules::Mark::kRepeat);
    const auto ordinal = static_cast<std::int64_t>(kept.readings.size());
    kept.result.outcomes.push_back(KeepOne(reading, ordinal, kept));
  }
  RememberMessage(batch);
  kept.result.kept = true;
  kept.position = next_.position;
  return kept;
}

AppendResult Ledger::Append(JournalLine& line, const std::vector<Fact>& facts) {
  AppendResult result;
  if (const auto first = journal_.Find(line.id)) {
    const bool same = first->body == line.body;
    result.kind = same ? AppendResult::Kind::kKnown : AppendResult::Kind::kConflict;
    if (same) result.answer = first->answer;
    result.position = first->position;
    return result;
  }
  line.position = ++next_.position;
  journal_.Insert(line, next_.at, facts);
  result.kind = AppendResult::Kind::kWritten;
  result.answer = line.answer;
  result.position = line.position;
  return result;
}

void Ledger::Save(const Snapshot& snapshot) {
  snapshots_.Save(snapshot);
  SumUp();
}

void Ledger::SetBack(rules::Instant wall) {
  Begin(wall, Durability::kPower);
  Misdated::Add(*database_, wall);
  SumUp();
  readings_.CapNewest(wall);
  snapshots_.DropAfter(wall);
  next_.at = wall;
  Commit();
}

void Ledger::SumUp() { readings_.SumUp(next_.position); }

}  // namespace rindwatch
