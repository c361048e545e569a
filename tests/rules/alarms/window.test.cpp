#include "rules/alarms/window.hpp"

#include <limits>
#include <map>
#include <random>

#include "rules/alarms/cadence.hpp"
#include "rules/alarms/delay.hpp"
#include "rules/alarms/thresholds.hpp"
#include "tests/catch.hpp"

namespace rindwatch::rules::watch {
namespace {

// The same figures by the long way.
struct Plain {
  std::map<std::int64_t, std::vector<std::int64_t>> minutes;
  std::optional<double> Mean(std::int64_t from, std::int64_t to) const {
    double sum = 0;
    int count = 0;
    for (auto it = minutes.lower_bound(from); it != minutes.end() && it->first < to; ++it) {
      double mean = 0;
      for (const std::int64_t milli : it->second) mean += static_cast<double>(milli) / 1000;
      sum += mean / static_cast<double>(it->second.size());
      ++count;
    }
    return count ? std::optional{sum / count} : std::nullopt;
  }
};

void CheckSame(std::optional<double> got, std::optional<double> wanted) {
  REQUIRE(got.has_value() == wanted.has_value());
  if (got) REQUIRE(*got == Approx(*wanted).margin(1e-6));
}

}  // namespace

TEST_CASE("the running means of a window equal those counted afresh") {
  std::mt19937 random(20260302);
  Window window(30);
  Plain plain;
  std::int64_t minute = 29'000'000;
  for (int i = 0; i < 5000; ++i) {
    const auto kind = random() % 20;
    if (kind == 0) minute += static_cast<std::int64_t>(random() % 120);
    minute += static_cast<std::int64_t>(random() % 3);
    if (kind == 1) {
      window.Clear();
      plain.minutes.clear();
    }
    const auto milli = static_cast<std::int64_t>(random() % 40'000) - 10'000;
    window.Add(minute, milli);
    plain.minutes[minute].push_back(milli);
    for (int segment = 0; segment < Window::kSegments; ++segment) {
      CheckSame(window.Mean(segment), plain.Mean(minute - 30 * (segment + 1), minute - 30 * segment));
    }
    CheckSame(window.Recent(), plain.Mean(minute - 10, minute));
  }
}

TEST_CASE("a window restored from what it held is the same window") {
  std::mt19937 random(7);
  Window window(60);
  for (std::int64_t minute = 1000; minute < 1400; minute += 1 + static_cast<std::int64_t>(random() % 2)) {
    window.Add(minute, static_cast<std::int64_t>(random() % 99'000));
    Window again(60);
    REQUIRE(again.Restore(window.OpenMinute(), window.OpenSum(), window.OpenCount(), window.Closed()));
    Window ahead = window;
    for (Window* one : {&ahead, &again}) one->RollTo(minute + 7);
    for (int segment = 0; segment < Window::kSegments; ++segment) CHECK(again.Mean(segment) == ahead.Mean(segment));
    CHECK(again.Recent() == ahead.Recent());
    CHECK(again.Closed() == ahead.Closed());
  }
}

TEST_CASE("a window refuses what it cannot have held") {
  Window window(3);
  CHECK(window.Restore(5, 1000, 1, {1, 2, 3}));
  CHECK_FALSE(window.Restore(5, 0, 0, std::vector<std::int32_t>(10, 1)));
  CHECK_FALSE(window.Restore(-1, 0, 0, {}));
  CHECK_FALSE(window.Restore(5, 0, -1, {}));
  CHECK_FALSE(window.Restore(5, 1, 0, {}));
  CHECK_FALSE(window.Restore(5, 0, 0, {2'000'000'000}));
}

TEST_CASE("a value that no probe can mean does not overflow a window") {
  Window window(3);
  for (std::int64_t minute = 0; minute < 20; ++minute) {
    window.Add(minute, std::numeric_limits<std::int64_t>::max());
    window.Add(minute, std::numeric_limits<std::int64_t>::min());
    window.Add(minute, std::numeric_limits<std::int64_t>::min());
  }
  CHECK(window.Mean() == Approx(-1000.0 / 3));
}

TEST_CASE("a probe's pace is the second longest of its last gaps") {
  Cadence cadence;
  CHECK(cadence.Interval() == kAssumedInterval);
  cadence.Learn(Millis{0});  // two channels of one message
  CHECK(cadence.Interval() == kAssumedInterval);
  for (int i = 0; i < 7; ++i) cadence.Learn(minutes{1});
  CHECK(cadence.Interval() == kAssumedInterval);  // not yet believed
  cadence.Learn(minutes{1});
  CHECK(cadence.Interval() == minutes{1});
  CHECK(cadence.MissedAfter() == minutes{3} + std::chrono::seconds{30});
  cadence.Learn(hours{8});  // one drop-out teaches nothing
  CHECK(cadence.Interval() == minutes{1});
  cadence.Learn(minutes{20});
  CHECK(cadence.Interval() == minutes{20});
  cadence.Learn(hours{8});
  CHECK(cadence.Interval() == kLongestInterval);
  CHECK(Cadence::FromGaps(cadence.Gaps()).Gaps() == cadence.Gaps());
  CHECK(Cadence::FromGaps(cadence.Gaps()).Interval() == cadence.Interval());
  CHECK(cadence.Gaps().size() == 8);
}

TEST_CASE("a pace slower than the assumed one is believed at once") {
  Cadence cadence;
  cadence.Learn(minutes{20});
  CHECK(cadence.Interval() == minutes{20});
  cadence.Learn(minutes{20});
  CHECK(cadence.Interval() == minutes{20});
}

TEST_CASE("no ceiling lies inside the band, whatever the band is") {
  for (const double low : {-3.0, 0.5, 2.0, 8.0, 10.5, 16.0}) {
    for (const double width : {0.0, 0.5, 3.0, 6.0}) {
      for (const bool tender : {true, false}) {
        const Figure band{low, low + width, ""};
        for (const AlarmKind kind :
             {AlarmKind::kTooWarm, AlarmKind::kTooCold, AlarmKind::kTooDry, AlarmKind::kTooDamp}) {
          const Ladder ladder = LadderFor(kind, band, tender, {});
          CHECK_FALSE(ladder.Beyond(low, ladder.act_at));
          CHECK_FALSE(ladder.Beyond(low + width, ladder.act_at));
          if (!ladder.urgent_at) continue;
          CHECK_FALSE(ladder.Beyond(low, *ladder.urgent_at));
          CHECK_FALSE(ladder.Beyond(low + width, *ladder.urgent_at));
        }
        CHECK(DeadbandOf(ChannelKind::kTemperature, band, {}) <= width / 4);
      }
    }
  }
}

}  // namespace rindwatch::rules::watch
