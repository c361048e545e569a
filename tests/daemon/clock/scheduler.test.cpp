#include "daemon/clock/scheduler.hpp"

#include <string>
#include <vector>

#include "daemon/clock/clocks.hpp"
#include "tests/catch.hpp"

namespace rindwatch {
namespace {

using namespace std::chrono_literals;

const rules::Instant kStart = rules::FromMillis(1'774'000'000'000);

// Tasks that write down their names when they run.
struct Bench {
  boost::asio::io_context loop;
  TrialClock clock{kStart};
  Scheduler scheduler{loop, clock};
  std::vector<std::string> ran;

  void At(const std::string& name, rules::Millis after) {
    scheduler.WakeAt(name, kStart + after, [this, name] { ran.push_back(name); });
  }
  void StepTo(rules::Millis after) {
    clock.StepTo(kStart + after);
    scheduler.RunDue();
  }
};

TEST_CASE("what is due runs in the order of instants, whatever the order of asking and the names") {
  Bench bench;
  bench.At("a", 30min);
  bench.At("b", 10min);
  bench.At("c", 20min);
  bench.At("d", 40min);
  bench.StepTo(30min);
  CHECK(bench.ran == std::vector<std::string>{"b", "c", "a"});
  CHECK(bench.scheduler.Next() == kStart + 40min);
}

TEST_CASE("a task runs at its instant, not a millisecond before, and once") {
  Bench bench;
  bench.At("a", 10min);
  bench.StepTo(10min - 1ms);
  CHECK(bench.ran.empty());
  bench.StepTo(10min);
  bench.StepTo(11min);
  CHECK(bench.ran == std::vector<std::string>{"a"});
  CHECK_FALSE(bench.scheduler.Next());
}

TEST_CASE("the same name again replaces what waits") {
  Bench bench;
  bench.At("a", 10min);
  bench.At("a", 30min);
  bench.StepTo(20min);
  CHECK(bench.ran.empty());
  bench.StepTo(30min);
  CHECK(bench.ran.size() == 1);
}

TEST_CASE("what is forgotten does not run") {
  Bench bench;
  bench.At("a", 10min);
  bench.At("b", 10min);
  bench.scheduler.Forget("a");
  bench.scheduler.Forget("never asked for");
  bench.StepTo(10min);
  CHECK(bench.ran == std::vector<std::string>{"b"});
}

TEST_CASE("a task may ask for itself anew, and for what is due already") {
  Bench bench;
  int times = 0;
  std::function<void()> again = [&] {
    if (++times < 3) bench.scheduler.WakeAt("a", kStart + times * 5min, again);
  };
  bench.scheduler.WakeAt("a", kStart, again);
  bench.StepTo(10min);
  CHECK(times == 3);
}

TEST_CASE("a task may forget one that is due at the same instant") {
  Bench bench;
  bench.scheduler.WakeAt("a", kStart + 1min, [&] { bench.scheduler.Forget("b"); });
  bench.At("b", 1min);
  bench.StepTo(1min);
  CHECK(bench.ran.empty());
}

TEST_CASE("a task that throws leaves the others their timer") {
  Bench bench;
  bench.scheduler.WakeAt("broken", kStart, [] { throw std::runtime_error("broken"); });
  bench.At("sound", 1ms);
  CHECK_THROWS_AS(bench.loop.run(), std::runtime_error);
  bench.clock.StepTo(kStart + 1ms);
  while (bench.ran.empty() && bench.loop.run_one() > 0) {
  }
  CHECK(bench.ran == std::vector<std::string>{"sound"});
}

TEST_CASE("after the stop nothing waits and nothing wakes") {
  Bench bench;
  bench.At("a", 0min);
  bench.scheduler.Stop();
  bench.StepTo(1min);
  bench.loop.poll();
  CHECK(bench.ran.empty());
  CHECK_FALSE(bench.scheduler.Next());
}

TEST_CASE("the loop's timer runs what is due by the clock") {
  Bench bench;
  bench.clock.StepTo(kStart + 1h);
  bench.At("late already", 10min);
  bench.loop.run_one();
  CHECK(bench.ran == std::vector<std::string>{"late already"});
}

}  // namespace
}  // namespace rindwatch
