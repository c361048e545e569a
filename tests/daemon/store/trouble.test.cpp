// A disk that is full or fails, and a thread that could not wait.
#include "daemon/store/writer.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/store/fault_vfs.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

Store::Settings SettingsAt(std::string path) {
  Store::Settings settings;
  settings.path = std::move(path);
  return settings;
}

std::vector<std::int64_t> KeptValues(Rig& rig) {
  rig.OpenOnly();
  std::vector<std::int64_t> values;
  rig.store->ReadInputs(0, std::nullopt, [&](const Committed& kept) {
    if (const auto* message = std::get_if<0>(&kept.what)) values.push_back(message->at(0).milli);
  });
  return values;
}

TEST_CASE("on a full disk the store refuses and says why, answers questions, resumes, and loses nothing") {
  TempFolder folder;
  FaultVfs disk;
  Rig rig(folder / "rind.db");
  rig.Begin();
  CHECK(rig.store->Keep(MakeBatch({MakeReading(1, 1, 1)})).kept);
  const AppendResult before = rig.Append(MakeLine("a1"));
  CHECK(rig.store->Health().writing);

  disk.SetFull(true);
  CHECK_FALSE(rig.store->Keep(MakeBatch({MakeReading(1, 2, 2)}, "box", 5)).kept);
  const AppendResult refused = rig.Append(MakeLine("a2"));
  CHECK(refused.kind == AppendResult::Kind::kRefused);
  CHECK_THAT(refused.why, Says("is full: make room on it"));
  CHECK_THAT(refused.why, Says(rig.settings.path));
  CHECK_FALSE(rig.Save({1, rules::FromMillis(0), 1, "state"}));
  const StoreHealth health = rig.store->Health();
  CHECK_FALSE(health.writing);
  CHECK(health.why == refused.why);
  CHECK(health.refused == 2);
  CHECK(rig.Tick().position == before.position);
  bool pinged = false;
  rig.store->Ping([&] { pinged = true; });
  CHECK(rig.loop.RunUntil([&] { return pinged; }));
  CHECK(rig.Find("a1"));
  CHECK_FALSE(rig.Find("a2"));
  CHECK(rig.Page(0, 10).size() == 1);

  disk.SetFull(false);
  CHECK(rig.store->Keep(MakeBatch({MakeReading(1, 3, 3)})).kept);
  CHECK(rig.Append(MakeLine("a2")).kind == AppendResult::Kind::kWritten);
  CHECK(rig.store->Health().writing);
  CHECK(rig.store->Health().why.empty());
  CHECK(rig.store->Health().readings_kept == 2);
  CHECK(rig.store->Health().lines_kept == 2);
  CHECK(rig.inbox.size() == 4);
  CHECK(KeptValues(rig) == std::vector<std::int64_t>{1, 3});
  CHECK(rig.store->ReadLastKnown().fingerprints.empty());
  CHECK(rig.store->ReadNewestLines(9).size() == 2);
}

TEST_CASE("what does not fit does not take along what fits") {
  TempFolder folder;
  FaultVfs disk;
  StandingClock clock;
  HealthBoard board;
  const Store::Post post = [](const std::function<void()>& function) { function(); };
  Writer writer(SettingsAt(folder / "rind.db"), clock, post, board);
  auto poison = MakeReading(1, 2, 2);
  poison.source = static_cast<rules::TimeSource>(99);
  std::vector<std::shared_ptr<WaitingBatch>> waiting;
  std::vector<Job> jobs;
  for (const auto& reading : {MakeReading(1, 1, 1), poison, MakeReading(1, 3, 3)}) {
    waiting.push_back(std::make_shared<WaitingBatch>(MakeBatch({reading})));
    jobs.push_back(KeepJob{waiting.back()});
  }
  writer.Handle(std::move(jobs), SteadyTime());
  CHECK(waiting[0]->WaitUntil(SteadyTime())->kept);
  CHECK_FALSE(waiting[1]->WaitUntil(SteadyTime())->kept);
  CHECK(waiting[2]->WaitUntil(SteadyTime())->kept);
}

TEST_CASE("a line whose sync fails is refused, and nothing is promised until a sync succeeds") {
  TempFolder folder;
  FaultVfs disk;
  Rig rig(folder / "rind.db");
  rig.Begin();
  CHECK(rig.store->Keep(MakeBatch({MakeReading(1, 1, 1)})).kept);
  disk.SetSyncFails(true);
  const AppendResult refused = rig.Append(MakeLine("a1"));
  CHECK(refused.kind == AppendResult::Kind::kRefused);
  CHECK_THAT(refused.why, Says("check the disk or card"));
  CHECK_FALSE(rig.store->Keep(MakeBatch({MakeReading(1, 2, 2)})).kept);
  disk.SetSyncFails(false);
  CHECK(rig.Append(MakeLine("a1")).kind == AppendResult::Kind::kWritten);
  CHECK(rig.store->Keep(MakeBatch({MakeReading(1, 3, 3)})).kept);
  CHECK(KeptValues(rig) == std::vector<std::int64_t>{1, 3});
}

// The writer by hand, with a thread that leaves at a moment of the test's choosing.
struct Late {
  std::shared_ptr<WaitingBatch> Handle(const sensors::Batch& batch) {
    auto waiting = std::make_shared<WaitingBatch>(batch);
    leaves = waiting;
    std::vector<Job> jobs;
    jobs.push_back(KeepJob{waiting});
    writer.Handle(std::move(jobs), SteadyTime());
    return waiting;
  }
  rules::Marks NewestMarks() { return std::get<0>(inbox.back().what).at(0).marks; }

  TempFolder folder;
  FaultVfs disk;
  StandingClock clock;
  HealthBoard board;
  const Store::Post post = [](const std::function<void()>& function) { function(); };
  std::shared_ptr<WaitingBatch> leaves;
  std::vector<Committed> inbox;
  Writer writer{SettingsAt(folder / "rind.db"), clock, post, board};
};

TEST_CASE("a batch whose thread gave up before the write is not written") {
  Late late;
  late.writer.SetInbox([&](Committed committed) { late.inbox.push_back(std::move(committed)); });
  auto waiting = std::make_shared<WaitingBatch>(MakeBatch({MakeReading(1, 1, 1)}, "box", 5));
  CHECK_FALSE(waiting->WaitUntil(SteadyTime()));
  std::vector<Job> jobs;
  jobs.push_back(KeepJob{waiting});
  late.writer.Handle(std::move(jobs), SteadyTime());
  CHECK(late.inbox.empty());
  CHECK(late.writer.GetLedger().Position() == 0);
}

TEST_CASE("a batch that was written after its thread gave up is a repeat when it comes again") {
  Late late;
  late.writer.SetInbox([&](Committed committed) { late.inbox.push_back(std::move(committed)); });
  late.disk.SetOnWrite([&] { late.leaves->WaitUntil(SteadyTime()); });
  const auto batch = MakeBatch({MakeReading(1, 1, 1)}, "box", 5);
  late.Handle(batch);
  late.disk.SetOnWrite({});
  REQUIRE(late.inbox.size() == 1);  // it is on disk, so the loop has it too
  CHECK(late.NewestMarks() == 1);

  SECTION("kept, marked, once") {
    CHECK(late.Handle(batch)->WaitUntil(SteadyTime())->kept);
    CHECK(Has(late.NewestMarks(), rules::Mark::kRepeat));
    late.Handle(batch);
    CHECK_FALSE(Has(late.NewestMarks(), rules::Mark::kRepeat));
  }
  SECTION("another message of the topic is none") {
    late.Handle(MakeBatch({MakeReading(1, 2, 2)}, "box", 6));
    CHECK_FALSE(Has(late.NewestMarks(), rules::Mark::kRepeat));
    late.Handle(batch);
    CHECK_FALSE(Has(late.NewestMarks(), rules::Mark::kRepeat));
  }
  SECTION("another topic is none") {
    late.Handle(MakeBatch({MakeReading(1, 2, 2)}, "counter", 5));
    CHECK_FALSE(Has(late.NewestMarks(), rules::Mark::kRepeat));
  }
}

TEST_CASE("whether what is kept would be written is found out without writing anything") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.Begin();
  const auto may = [&rig] {
    std::optional<bool> answer;
    rig.store->TryToWrite([&](bool one) { answer = one; });
    REQUIRE(rig.loop.RunUntil([&] { return answer.has_value(); }));
    return *answer;
  };
  rig.Append(MakeLine("a1"));
  const auto size = [&rig] { return std::filesystem::file_size(rig.settings.path + "-wal"); };
  const auto before = size();
  CHECK(may());
  CHECK(size() == before);
  {
    sqlite::Database other(rig.settings.path, sqlite::Database::Access::kReadWrite);
    other.Execute("BEGIN IMMEDIATE");
    CHECK_FALSE(may());
  }
  CHECK(may());
  CHECK(rig.Append(MakeLine("a2")).kind == AppendResult::Kind::kWritten);
}

TEST_CASE("another program's write lock is waited for and then named") {
  TempFolder folder;
  sqlite::Database ours(folder / "rind.db", sqlite::Database::Access::kCreate, std::chrono::milliseconds(0));
  sqlite::Database other(folder / "rind.db", sqlite::Database::Access::kCreate);
  other.Execute("PRAGMA journal_mode = WAL; CREATE TABLE t (a); BEGIN IMMEDIATE");
  CHECK_THROWS_WITH(ours.Execute("BEGIN IMMEDIATE"), Says("is being written by another program: close"));
}

TEST_CASE("after the close everything is refused and every question is answered or dropped") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.Begin();
  rig.store->Keep(MakeBatch({MakeReading(1, 1, 1)}));
  rig.store->Close();
  CHECK_FALSE(rig.store->Keep(MakeBatch({MakeReading(1, 2, 2)})).kept);
  CHECK(rig.Append(MakeLine("a1")).kind == AppendResult::Kind::kRefused);
  CHECK_FALSE(rig.Find("a1"));
  CHECK_FALSE(rig.Save({}));
  rig.store->Close();
  CHECK(KeptValues(rig) == std::vector<std::int64_t>{1});
}

TEST_CASE("what was given before the start is written at the start, or at the close without one") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.OpenOnly();
  bool written = false;
  rig.store->Append(MakeLine("a1"), {},
                    [&](const AppendResult& result) { written = result.kind == AppendResult::Kind::kWritten; });
  const bool started = GENERATE(true, false);
  if (started) rig.store->Start([&](Committed committed) { rig.inbox.push_back(std::move(committed)); });
  rig.store->Close();
  CHECK(rig.loop.RunUntil([&] { return written; }));
}

}  // namespace
}  // namespace rindwatch
