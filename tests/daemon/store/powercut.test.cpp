// A power cut takes at most the window of readings, no journal line that was answered, and never the file.
#include <set>

#include "daemon/store/writer.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/store/fault_vfs.hpp"
#include "tests/daemon/store/long_tests.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using std::chrono::seconds;

constexpr seconds kWindow{30};

// What was acknowledged before the cut.
struct Acked {
  std::vector<std::pair<std::int64_t, SteadyTime>> readings;  // milli, a number of its own each, and when
  std::vector<std::string> lines;
  SteadyTime cut_at;
};

// A day in the life of the writer, in steps of its own time, until the power fails.
class Life {
 public:
  Life(const std::string& path, FaultVfs& disk, unsigned seed) : disk_(disk), random_(seed) {
    settings_.path = path;
    settings_.sync_window = kWindow;
  }

  Acked Run() {
    Open();
    while (!disk_.Cut()) Step();
    acked_.cut_at = now_;
    writer_.reset();
    return acked_;
  }

 private:
  void Open() {
    writer_.reset();
    writer_ = std::make_unique<Writer>(settings_, clock_, post_, board_);
  }

  void Step() {
    PassTime(std::chrono::milliseconds(random_() % 9'000));
    switch (random_() % 24) {
      case 0:
      case 1:
        return Append();
      case 2:
        return writer_->GetLedger().Checkpoint(random_() % 2 == 0);
      case 3:
        return Save();
      case 4:
        writer_->Finish(now_);
        return Open();
      default:
        return Keep();
    }
  }

  // The thread that owns a writer wakes at its deadline.
  void PassTime(std::chrono::milliseconds span) {
    const SteadyTime until = now_ + span;
    while (writer_->SyncDeadline() && *writer_->SyncDeadline() <= until && !disk_.Cut()) {
      now_ = *writer_->SyncDeadline();
      writer_->SyncIfDue(now_);
    }
    if (!disk_.Cut()) now_ = until;
  }

  void Keep() {
    std::vector<std::shared_ptr<WaitingBatch>> waiting;
    std::vector<Job> jobs;
    for (unsigned i = 0; i <= random_() % 3; ++i) {
      ++number_;
      waiting.push_back(std::make_shared<WaitingBatch>(
          MakeBatch({MakeReading(1, number_, number_)}, "box/" + std::to_string(number_ % 3), random_())));
      jobs.push_back(KeepJob{waiting.back()});
    }
    writer_->Handle(std::move(jobs), now_);
    for (const auto& batch : waiting)
      if (const auto result = batch->WaitUntil(SteadyTime()); result && result->kept && !disk_.Cut())
        acked_.readings.emplace_back(batch->batch.readings[0].milli, now_);
  }

  void Append() {
    std::vector<Job> jobs;
    const std::string id = "act" + std::to_string(++number_);
    jobs.push_back(AppendJob{MakeLine(id, "{}", {1, 2}),
                             {MakeFact("wheel", 1, "place", number_, number_)},
                             [this, id](const AppendResult& result) {
                               if (result.kind == AppendResult::Kind::kWritten && !disk_.Cut())
                                 acked_.lines.push_back(id);
                             }});
    writer_->Handle(std::move(jobs), now_);
  }

  void Save() {
    std::vector<Job> jobs;
    jobs.push_back(SaveJob{{writer_->GetLedger().Position(), clock_.Wall(), 1, std::string(9'000, 's')}, {}});
    writer_->Handle(std::move(jobs), now_);
  }

  FaultVfs& disk_;
  std::mt19937 random_;
  Store::Settings settings_;
  StandingClock clock_;
  HealthBoard board_;
  Store::Post post_ = [](const std::function<void()>& function) { function(); };
  std::unique_ptr<Writer> writer_;
  SteadyTime now_{std::chrono::hours(1)};
  std::int64_t number_ = 0;
  Acked acked_;
};

struct Losses {
  int readings_in_time = 0, readings_overdue = 0, lines = 0;
};

// Opens what the disk held after the cut.
Losses Examine(const std::string& path, const Acked& acked) {
  StandingClock clock;
  Store::Settings settings;
  settings.path = path;
  const auto store = Store::Open(settings, clock, [](const std::function<void()>&) {});
  CHECK(CheckDatabase(path, [](const JournalLine& line) {
          const std::int64_t number = std::stoll(line.id.substr(3));
          return std::vector{MakeFact("wheel", 1, "place", number, number)};
        }).faults.empty());
  std::multiset<std::int64_t> readings;
  std::multiset<std::string> lines;
  std::int64_t expected_position = 0;
  store->ReadInputs(0, std::nullopt, [&](const Committed& kept) {
    CHECK(kept.position == ++expected_position);  // a prefix of what was written, without holes
    if (const auto* message = std::get_if<0>(&kept.what)) readings.insert((*message)[0].milli);
    if (const auto* line = std::get_if<1>(&kept.what)) lines.insert(line->id);
  });
  if (const auto snapshot = store->ReadSnapshot(1)) CHECK(snapshot->position <= expected_position);

  Losses losses;
  for (const auto& [milli, at] : acked.readings) {
    CHECK(readings.count(milli) <= 1);
    if (readings.count(milli) == 1) continue;
    ++(acked.cut_at - at <= kWindow ? losses.readings_in_time : losses.readings_overdue);
  }
  for (const std::string& id : acked.lines) losses.lines += lines.count(id) != 1;
  return losses;
}

Losses CutOnce(unsigned seed) {
  TempFolder before, after;
  std::mt19937 random(seed);
  Acked acked;
  {
    FaultVfs disk;
    disk.CutAt(static_cast<long>(1 + random() % 2'500));
    acked = Life(before / "rind.db", disk, seed).Run();
    disk.WriteImage(after / "", random);
  }
  return Examine(after / "rind.db", acked);
}

TEST_CASE("a power cut takes at most the window of readings and no journal line") {
  int taken = 0;
  for (unsigned seed = 1; seed <= static_cast<unsigned>(Rounds(24, 600)); ++seed) {
    CAPTURE(seed);
    const Losses losses = CutOnce(seed);
    CHECK(losses.lines == 0);
    CHECK(losses.readings_overdue == 0);
    taken += losses.readings_in_time;
  }
  CHECK(taken > 0);  // else the cuts cut nothing
}

// Without it nobody would know that the test above can fail.
TEST_CASE("a disk that lies about syncing does lose what was promised") {
  int broken = 0;
  for (unsigned seed = 1; seed <= 12; ++seed) {
    TempFolder before, after;
    std::mt19937 random(seed);
    Acked acked;
    {
      FaultVfs disk;
      disk.SetSyncLies(true);
      disk.CutAt(static_cast<long>(500 + random() % 2'000));
      acked = Life(before / "rind.db", disk, seed).Run();
      disk.WriteImage(after / "", random);
    }
    StandingClock clock;
    Store::Settings settings;
    settings.path = after / "rind.db";
    std::size_t lines = 0;
    try {
      const auto store = Store::Open(settings, clock, [](const std::function<void()>&) {});
      lines = store->ReadNewestLines(100'000).size();
    } catch (const StoreError&) {
    }
    broken += lines < acked.lines.size();
  }
  CHECK(broken == 12);
}

}  // namespace
}  // namespace rindwatch
