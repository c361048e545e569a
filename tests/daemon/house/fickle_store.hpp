// A real store that can be told to refuse lines, as one on a full disk does.
#pragma once

#include <memory>
#include <utility>

#include "daemon/store/store.hpp"

namespace rindwatch::testing {

class FickleStore final : public Store {
 public:
  FickleStore(std::unique_ptr<Store> store, Post post) : store_(std::move(store)), post_(std::move(post)) {}

  bool refusing = false;
  int saved = 0;  // snapshots that were asked for

  LastKnown ReadLastKnown() override { return store_->ReadLastKnown(); }
  void ReadFacts(const std::function<void(const JournalLine&, const Fact&)>& visit) override {
    store_->ReadFacts(visit);
  }
  std::optional<Snapshot> ReadSnapshot(int rules_version) override { return store_->ReadSnapshot(rules_version); }
  void ReadInputs(std::int64_t after_position, std::optional<rules::Instant> since,
                  const std::function<void(const Committed&)>& visit) override {
    store_->ReadInputs(after_position, since, visit);
  }
  std::optional<Committed> ReadLast() override { return store_->ReadLast(); }
  std::vector<JournalLine> ReadNewestLines(std::size_t count) override { return store_->ReadNewestLines(count); }
  void SetBack(rules::Instant wall) override { store_->SetBack(wall); }
  void Start(std::function<void(Committed)> inbox) override { store_->Start(std::move(inbox)); }
  sensors::KeepResult Keep(const sensors::Batch& batch) noexcept override { return store_->Keep(batch); }
  StoreHealth Health() const override {
    StoreHealth health = store_->Health();
    if (refusing) health.writing = false, health.why = kWhy;
    return health;
  }
  void Append(JournalLine line, std::vector<Fact> facts, std::function<void(AppendResult)> done) override {
    if (!refusing) return store_->Append(std::move(line), std::move(facts), std::move(done));
    post_([done = std::move(done)] { done({AppendResult::Kind::kRefused, "", kWhy, 0}); });
  }
  void Find(const std::string& id, std::function<void(std::optional<JournalLine>)> done) override {
    store_->Find(id, std::move(done));
  }
  void AskTick() override { store_->AskTick(); }
  void SaveSnapshot(Snapshot snapshot, std::function<void(bool saved)> done) override {
    ++saved;
    store_->SaveSnapshot(std::move(snapshot), std::move(done));
  }
  void WriteNotices(std::vector<NoticeRow> rows, std::function<void(std::vector<std::int64_t>)> done) override {
    if (!refusing) return store_->WriteNotices(std::move(rows), std::move(done));
    post_([done = std::move(done)] { done({}); });
  }
  void NoticesSince(rules::Instant since, std::function<void(std::vector<NoticeRow>)> done) override {
    store_->NoticesSince(since, std::move(done));
  }
  void NoticePage(std::int64_t before, std::size_t count, std::function<void(std::vector<NoticeRow>)> done) override {
    store_->NoticePage(before, count, std::move(done));
  }
  void Ping(std::function<void()> done) override { store_->Ping(std::move(done)); }
  void TryToWrite(std::function<void(bool may)> done) override { store_->TryToWrite(std::move(done)); }
  void History(rules::ChannelId channel, rules::Instant from, rules::Instant to, rules::Millis width,
               std::function<void(std::vector<Bucket>)> done) override {
    store_->History(channel, from, to, width, std::move(done));
  }
  void JournalPage(std::int64_t before_position, std::size_t count,
                   std::function<void(std::vector<JournalLine>)> done) override {
    store_->JournalPage(before_position, count, std::move(done));
  }
  void Close() override { store_->Close(); }

 private:
  static constexpr const char* kWhy = "The disk is full. Free some space.";

  std::unique_ptr<Store> store_;
  Post post_;
};

}  // namespace rindwatch::testing
