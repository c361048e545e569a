// Many threads at once: one order, the same for the loop and for a replay; and the identity of readings by chance.
#include <map>
#include <random>
#include <thread>

#include "daemon/store/job_queue.hpp"
#include "daemon/store/sync_window.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using sensors::Kept;

TEST_CASE("the loop sees everything once, in the order in which a replay sees it") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.settings.queue_bound = 3;  // so that threads wait for room too
  rig.Begin();
  constexpr int kThreads = 4, kEach = 60;
  std::vector<std::thread> threads;
  for (int thread = 0; thread < kThreads; ++thread)
    threads.emplace_back([&, thread] {
      for (int i = 0; i < kEach; ++i) {
        rig.clock.wall += (i % 7) - 3;  // back and forth
        rig.store->Keep(MakeBatch({MakeReading(thread, i, i), MakeReading(thread, i, -i)}));
      }
    });
  int written = 0, asked = 0;
  while (written < 40) {
    bool done = false;
    rig.store->Append(MakeLine("a" + std::to_string(++asked)), {}, [&](const AppendResult& result) {
      written += result.kind == AppendResult::Kind::kWritten;
      done = true;
    });
    REQUIRE(rig.loop.RunUntil([&] { return done; }));
  }
  for (std::thread& thread : threads) thread.join();
  rig.Tick();

  std::map<rules::ChannelId, std::int64_t> next;
  for (std::size_t i = 0; i < rig.inbox.size(); ++i) {
    if (i > 0) CHECK(rig.inbox[i].position > rig.inbox[i - 1].position);
    if (i > 0) CHECK(rig.inbox[i].at >= rig.inbox[i - 1].at);
    if (const auto* message = std::get_if<0>(&rig.inbox[i].what))
      CHECK(message->at(0).milli == next[message->at(0).channel]++);
  }
  CHECK(rig.inbox.size() == kThreads * kEach + 40);

  const std::vector<Committed> lived = std::move(rig.inbox);
  rig.OpenOnly();
  std::size_t at = 0;
  rig.store->ReadInputs(0, std::nullopt, [&](const Committed& kept) {
    REQUIRE(at < lived.size());
    CHECK(kept.position == lived[at].position);
    CHECK(kept.at == lived[at].at);
    CHECK(kept.what.index() == lived[at].what.index());
    ++at;
  });
  CHECK(at == lived.size());
}

TEST_CASE("a tick comes after what was kept before it and names the newest position that was told") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.Begin();
  for (int i = 1; i <= 20; ++i) {
    rig.store->Keep(MakeBatch({MakeReading(1, i, i)}));
    const Committed tick = rig.Tick();
    REQUIRE(rig.inbox.size() == static_cast<std::size_t>(i));
    CHECK(tick.position == rig.inbox.back().position);
    CHECK(tick.at >= rig.inbox.back().at);
  }
}

TEST_CASE("of readings that name their own time the first is kept, whatever comes in whatever order") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  std::mt19937 random(11);
  std::map<std::pair<rules::ChannelId, std::int64_t>, std::int64_t> first;
  std::size_t others = 0;
  for (int round = 0; round < 4; ++round) {
    rig.Reopen();
    for (int i = 0; i < 80; ++i) {
      sensors::Batch batch;
      std::vector<Kept> expected;
      for (unsigned n = 1 + random() % 4; n > 0; --n) {
        const auto channel = static_cast<rules::ChannelId>(random() % 3);
        const auto at = static_cast<std::int64_t>(random() % 60);
        const auto milli = static_cast<std::int64_t>(random() % 2);
        const bool own = random() % 4 != 0;
        batch.readings.push_back(
            MakeReading(channel, at, milli, own ? rules::TimeSource::kOwn : rules::TimeSource::kArrival));
        others += !own;
        const auto [known, fresh] = own ? first.try_emplace({channel, at}, milli) : std::pair(first.end(), true);
        expected.push_back(fresh ? Kept::kNew : known->second == milli ? Kept::kSame : Kept::kConflict);
      }
      CHECK(rig.store->Keep(batch).outcomes == expected);
    }
  }
  std::size_t kept_own = 0, kept_others = 0;
  rig.OpenOnly();
  rig.store->ReadInputs(0, std::nullopt, [&](const Committed& kept) {
    for (const auto& reading : std::get<0>(kept.what)) {
      const bool own = reading.source == rules::TimeSource::kOwn;
      ++(own ? kept_own : kept_others);
      if (own) CHECK(first.at({reading.channel, rules::ToMillis(reading.measured_at)}) == reading.milli);
    }
  });
  CHECK(kept_own == first.size());
  CHECK(kept_others == others);
}

TEST_CASE("the queue is bounded for writes and open for questions") {
  JobQueue queue(2);
  const auto write = [] { return Job(AppendJob()); };
  for (int i = 0; i < 2; ++i) {
    Job job = write();
    CHECK(queue.Put(job));
  }
  Job third = write();
  CHECK_FALSE(queue.Put(third));
  CHECK_FALSE(queue.PutUntil(write(), SteadyTime()));
  Job question = TickJob();
  CHECK(queue.Put(question));
  CHECK(queue.Size() == 3);
  CHECK(queue.TakeAll(std::nullopt).size() == 3);
  CHECK(queue.Put(third));
  queue.Close();
  CHECK_FALSE(queue.Put(question));
  CHECK(queue.TakeAll(std::nullopt).size() == 1);
  CHECK(queue.TakeAll(std::nullopt).empty());
}

TEST_CASE("the window counts from the oldest reading that is not synced") {
  using std::chrono::seconds;
  SyncWindow window(seconds(30));
  const SteadyTime start{seconds(100)};
  CHECK_FALSE(window.Deadline());
  CHECK_FALSE(window.IsDue(start + seconds(1'000)));
  window.OnUnsynced(start);
  window.OnUnsynced(start + seconds(20));
  CHECK(window.Deadline() == start + seconds(30));
  CHECK_FALSE(window.IsDue(start + seconds(29)));
  CHECK(window.IsDue(start + seconds(30)));
  window.OnFailed(start + seconds(30));
  CHECK_FALSE(window.IsDue(start + seconds(30)));
  CHECK(window.IsDue(start + seconds(35)));
  window.OnSynced();
  CHECK_FALSE(window.Deadline());
  window.OnUnsynced(start);
  CHECK(window.Deadline() == start + seconds(30));
}

}  // namespace
}  // namespace rindwatch
