#include "daemon/store/sqlite_store.hpp"

#include <spdlog/spdlog.h>

#include <cassert>
#include <utility>

#include "daemon/store/history.hpp"
#include "daemon/store/input_scan.hpp"
#include "daemon/store/sqlite/error.hpp"

namespace rindwatch {

std::unique_ptr<Store> Store::Open(const Settings& settings, const rules::Clock& clock, Post post) {
  try {
    return std::make_unique<SqliteStore>(settings, clock, std::move(post));
  } catch (const sqlite::DatabaseError& error) {
    throw StoreError(error.what());
  }
}

SqliteStore::SqliteStore(const Settings& settings, const rules::Clock& clock, Post post)
    : post_(std::move(post)),
      lock_(settings.path + ".lock", settings.path),
      writer_(settings, clock, post_, board_),
      queue_(settings.queue_bound),
      reader_(settings.path) {}

SqliteStore::~SqliteStore() { SqliteStore::Close(); }

sqlite::Database& SqliteStore::Connection() {
  assert(!started_);
  return writer_.GetLedger().Connection();
}

LastKnown SqliteStore::ReadLastKnown() {
  assert(!started_);
  return writer_.GetLedger().ReadLastKnown();
}

void SqliteStore::ReadFacts(const std::function<void(const JournalLine&, const Fact&)>& visit) {
  ScanFacts(Connection(), visit);
}

std::optional<Snapshot> SqliteStore::ReadSnapshot(int rules_version) {
  assert(!started_);
  return writer_.GetLedger().NewestSnapshot(rules_version);
}

void SqliteStore::ReadInputs(std::int64_t after_position, std::optional<rules::Instant> since,
                             const std::function<void(const Committed&)>& visit) {
  ScanInputs(Connection(), after_position, since, visit);
}

std::optional<Committed> SqliteStore::ReadLast() { return ReadNewest(Connection()); }

std::vector<JournalLine> SqliteStore::ReadNewestLines(std::size_t count) {
  std::vector<JournalLine> lines = ReadJournalPage(Connection(), 0, count);
  std::ranges::reverse(lines);
  return lines;
}

void SqliteStore::SetBack(rules::Instant wall) {
  assert(!started_);
  writer_.SetBack(wall);
}

void SqliteStore::Start(std::function<void(Committed)> inbox) {
  assert(!started_);
  started_ = true;
  writer_.SetInbox(std::move(inbox));
  reader_.Start();
  thread_ = std::thread([this] { WriteLoop(); });
}

// The writer's thread: takes all that waits, writes and tells it, syncs in time; ends when the queue is closed and
// empty.
void SqliteStore::WriteLoop() {
  for (bool more = true; more;) {
    std::vector<Job> jobs = queue_.TakeAll(writer_.SyncDeadline());
    more = !jobs.empty() || !queue_.Closed();
    const SteadyTime now = std::chrono::steady_clock::now();
    if (!jobs.empty()) writer_.Handle(std::move(jobs), now);
    writer_.SyncIfDue(now);
  }
  writer_.Finish(std::chrono::steady_clock::now());
}

sensors::KeepResult SqliteStore::Keep(const sensors::Batch& batch) noexcept {
  try {
    const SteadyTime deadline = std::chrono::steady_clock::now() + kKeepWaits;
    auto waiting = std::make_shared<WaitingBatch>(batch);
    if (queue_.PutUntil(KeepJob{waiting}, deadline))
      if (auto result = waiting->WaitUntil(deadline)) return *std::move(result);
    board_.OnRefused();
  } catch (const std::exception& error) {  // no memory: the message comes again
    spdlog::error("A message could not be kept: {}.", error.what());
  }
  return {};
}

StoreHealth SqliteStore::Health() const {
  StoreHealth health = board_.Read();
  health.queued = queue_.Size();
  return health;
}

void SqliteStore::Append(JournalLine line, std::vector<Fact> facts, std::function<void(AppendResult)> done) {
  Job job = AppendJob{std::move(line), std::move(facts), std::move(done)};
  if (queue_.Put(job)) return;
  board_.OnRefused();
  std::string why = queue_.Closed() ? "Rindwatch is stopping: send it again after the start."
                                    : "The disk does not keep up and too much waits: send it again in a while.";
  post_([done = std::get<AppendJob>(std::move(job)).done, why = std::move(why)] {
    if (done) done({AppendResult::Kind::kRefused, "", why, 0});
  });
}

void SqliteStore::Find(const std::string& id, std::function<void(std::optional<JournalLine>)> done) {
  Job job = FindJob{id, std::move(done)};
  if (!queue_.Put(job)) post_([done = std::get<FindJob>(std::move(job)).done] { done(std::nullopt); });
}

void SqliteStore::AskTick() {
  Job job = TickJob{};
  queue_.Put(job);
}

void SqliteStore::SaveSnapshot(Snapshot snapshot, std::function<void(bool)> done) {
  Job job = SaveJob{std::move(snapshot), std::move(done)};
  if (queue_.Put(job)) return;
  post_([done = std::get<SaveJob>(std::move(job)).done] {
    if (done) done(false);
  });
}

void SqliteStore::WriteNotices(std::vector<NoticeRow> rows, std::function<void(std::vector<std::int64_t>)> done) {
  Job job = NoticeJob{std::move(rows), std::move(done)};
  if (queue_.Put(job)) return;
  post_([done = std::get<NoticeJob>(std::move(job)).done] {
    if (done) done({});
  });
}

void SqliteStore::Ping(std::function<void()> done) {
  Job job = PingJob{std::move(done)};
  queue_.Put(job);  // closed: nobody answers, as nobody is there
}

void SqliteStore::TryToWrite(std::function<void(bool)> done) {
  Job job = TryJob{std::move(done)};
  queue_.Put(job);
}

template <typename Answer>
void SqliteStore::AskReader(std::function<Answer(sqlite::Database&)> read, std::function<void(Answer)> done) {
  reader_.Ask([this, read = std::move(read), done = std::move(done)](sqlite::Database& database) {
    Answer answer;
    try {
      answer = read(database);
    } catch (const std::exception& error) {
      spdlog::error("History could not be read: {}", error.what());
    }
    post_([done, answer = std::move(answer)] { done(answer); });
  });
}

void SqliteStore::History(rules::ChannelId channel, rules::Instant from, rules::Instant to, rules::Millis width,
                          std::function<void(std::vector<Bucket>)> done) {
  AskReader<std::vector<Bucket>>(
      [=](sqlite::Database& database) { return ReadHistory(database, channel, from, to, width); }, std::move(done));
}

void SqliteStore::JournalPage(std::int64_t before_position, std::size_t count,
                              std::function<void(std::vector<JournalLine>)> done) {
  AskReader<std::vector<JournalLine>>(
      [=](sqlite::Database& database) { return ReadJournalPage(database, before_position, count); }, std::move(done));
}

void SqliteStore::NoticesSince(rules::Instant since, std::function<void(std::vector<NoticeRow>)> done) {
  AskReader<std::vector<NoticeRow>>([=](sqlite::Database& database) { return ReadNoticesSince(database, since); },
                                    std::move(done));
}

void SqliteStore::NoticePage(std::int64_t before, std::size_t count, std::function<void(std::vector<NoticeRow>)> done) {
  AskReader<std::vector<NoticeRow>>([=](sqlite::Database& database) { return ReadNoticePage(database, before, count); },
                                    std::move(done));
}

void SqliteStore::Close() {
  if (std::exchange(closed_, true)) return;
  queue_.Close();
  if (started_)
    thread_.join();
  else
    WriteLoop();  // what was given before the start is written all the same
  reader_.Stop();
}

}  // namespace rindwatch
