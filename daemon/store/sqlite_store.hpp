// The store on SQLite: the lock, the queue, the writer's thread and the reader's.
#pragma once

#include <atomic>
#include <thread>

#include "daemon/store/job_queue.hpp"
#include "daemon/store/lock.hpp"
#include "daemon/store/reader.hpp"
#include "daemon/store/store.hpp"
#include "daemon/store/writer.hpp"

namespace rindwatch {

class SqliteStore final : public Store {
 public:
  // How long a broker's thread may wait, for room and for the write together.
  static constexpr std::chrono::seconds kKeepWaits{20};

  // Throws StoreError or DatabaseError.
  SqliteStore(const Settings& settings, const rules::Clock& clock, Post post);
  ~SqliteStore() override;
  SqliteStore(const SqliteStore&) = delete;
  SqliteStore& operator=(const SqliteStore&) = delete;

  LastKnown ReadLastKnown() override;
  void ReadFacts(const std::function<void(const JournalLine&, const Fact&)>& visit) override;
  std::optional<Snapshot> ReadSnapshot(int rules_version) override;
  void ReadInputs(std::int64_t after_position, std::optional<rules::Instant> since,
                  const std::function<void(const Committed&)>& visit) override;
  std::optional<Committed> ReadLast() override;
  std::vector<JournalLine> ReadNewestLines(std::size_t count) override;
  void SetBack(rules::Instant wall) override;
  void Start(std::function<void(Committed)> inbox) override;

  sensors::KeepResult Keep(const sensors::Batch& batch) noexcept override;
  StoreHealth Health() const override;
  void Append(JournalLine line, std::vector<Fact> facts, std::function<void(AppendResult)> done) override;
  void Find(const std::string& id, std::function<void(std::optional<JournalLine>)> done) override;
  void AskTick() override;
  void SaveSnapshot(Snapshot snapshot, std::function<void(bool)> done) override;
  void WriteNotices(std::vector<NoticeRow> rows, std::function<void(std::vector<std::int64_t>)> done) override;
  void Ping(std::function<void()> done) override;
  void TryToWrite(std::function<void(bool may)> done) override;

  void History(rules::ChannelId channel, rules::Instant from, rules::Instant to, rules::Millis width,
               std::function<void(std::vector<Bucket>)> done) override;
  void JournalPage(std::int64_t before_position, std::size_t count,
                   std::function<void(std::vector<JournalLine>)> done) override;
  void NoticesSince(rules::Instant since, std::function<void(std::vector<NoticeRow>)> done) override;
  void NoticePage(std::int64_t before, std::size_t count, std::function<void(std::vector<NoticeRow>)> done) override;
  void Close() override;

 private:
  sqlite::Database& Connection();  // the writer's, before its thread begins
  void WriteLoop();
  // Answers from the reader's thread: what `read` gives or, if the disk fails, an empty answer.
  template <typename Answer>
  void AskReader(std::function<Answer(sqlite::Database&)> read, std::function<void(Answer)> done);

  const Post post_;
  HealthBoard board_;
  FileLock lock_;  // before the writer: taken first, given back last
  Writer writer_;  // the writer's thread, once it runs
  JobQueue queue_;
  Reader reader_;
  std::thread thread_;
  bool started_ = false, closed_ = false;  // the loop's thread
};

}  // namespace rindwatch
