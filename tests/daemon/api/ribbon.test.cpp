#include "daemon/api/ribbon.hpp"

#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using rules::ChannelKind;
using rules::Instant;

// Five-minute buckets with one reading each, from an instant on, one for each value.
std::vector<Bucket> Buckets(Instant from, const std::vector<double>& values) {
  std::vector<Bucket> buckets;
  for (const double value : values) {
    buckets.push_back({from, 1, value, value, value});
    from += 5min;
  }
  return buckets;
}

std::vector<double> ValuesOf(const std::vector<TracePoint>& points) {
  std::vector<double> values;
  for (const TracePoint& point : points) values.push_back(point.mean);
  return values;
}

TEST_CASE("each point is the mean of the window before it") {
  const auto buckets = Buckets(kThursday, {10, 12, 14, 16, 18, 20});
  const auto points = Means(buckets, kThursday, kThursday + 30min, 10min, 20min);
  // Nothing before the first instant; then the first two, the first four, and the last four.
  REQUIRE(points.size() == 3);
  CHECK(points[0].at == kThursday + 10min);
  CHECK(ValuesOf(points) == std::vector<double>{11, 13, 17});
}

TEST_CASE("a bucket counts by how many readings it holds") {
  const std::vector<Bucket> buckets{{kThursday, 9, 10, 10, 10}, {kThursday + 5min, 1, 20, 20, 20}};
  CHECK(ValuesOf(Means(buckets, kThursday + 10min, kThursday + 10min, 10min, 30min)) == std::vector<double>{11});
}

TEST_CASE("what was said before the span still counts in its first windows") {
  const auto buckets = Buckets(kThursday - 20min, {10, 10, 20, 20});
  CHECK(ValuesOf(Means(buckets, kThursday, kThursday, 10min, 20min)) == std::vector<double>{15});
  CHECK(ValuesOf(Means(buckets, kThursday, kThursday, 10min, 10min)) == std::vector<double>{20});
}

TEST_CASE("where nothing was said lately there is no point: a gap is never bridged by an old mean") {
  auto buckets = Buckets(kThursday, {12, 12});
  const auto later = Buckets(kThursday + 2h, {12, 12});
  buckets.insert(buckets.end(), later.begin(), later.end());
  // A window of three hours reaches over the gap; still nothing is drawn into it.
  const auto points = Means(buckets, kThursday, kThursday + 3h, 10min, 3h);
  for (const TracePoint& point : points) {
    const bool spoke =
        point.at <= kThursday + 25min || (point.at > kThursday + 2h && point.at <= kThursday + 2h + 25min);
    if (!spoke) FAIL_CHECK("a point at " << rules::ToText(point.at));
  }
  CHECK(points.size() == 4);
}

TEST_CASE("no reading, no point") { CHECK(Means({}, kThursday, kThursday + 24h, 10min, 30min).empty()); }

TEST_CASE("gaps are what is longer than the longest pause, at both ends too") {
  const auto gaps = [](const std::vector<Bucket>& buckets) {
    const HungSpan hung{1, kThursday, kThursday + 2h};
    return GapsIn(SpokenIn(buckets, hung, 5min, 20min), hung.from, hung.to, 20min);
  };
  CHECK(gaps(Buckets(kThursday, std::vector<double>(24, 12.0))).empty());
  SECTION("all of it") {
    REQUIRE(gaps({}).size() == 1);
    CHECK(gaps({}).front().from == kThursday);
    CHECK(gaps({}).front().to == kThursday + 2h);
  }
  SECTION("before the first and after the last") {
    const auto found = gaps(Buckets(kThursday + 30min, {12}));
    REQUIRE(found.size() == 2);
    CHECK(found[0].to == kThursday + 30min);
    CHECK(found[1].from == kThursday + 35min);
    CHECK(found[1].to == kThursday + 2h);
  }
  SECTION("a pause of the longest length is none, a longer one is") {
    auto buckets = Buckets(kThursday, std::vector<double>(10, 12.0));  // to 0:50
    const auto rest = [&](rules::Millis at) {
      auto all = buckets;
      const auto more = Buckets(kThursday + at, std::vector<double>(14, 12.0));
      all.insert(all.end(), more.begin(), more.end());
      return gaps(all).size();
    };
    CHECK(rest(70min) == 0);
    CHECK(rest(75min) == 1);
  }
}

TEST_CASE("of two probes in one place the hasty one's pauses are no gap while the slow one keeps its pace") {
  const std::vector<Bucket> hasty = {{kThursday, 1, 12, 12, 12}},
                            slow = {{kThursday + 30min, 1, 12, 12, 12}, {kThursday + 70min, 1, 12, 12, 12}};
  const HungSpan first{1, kThursday, kThursday + 2h}, second{2, kThursday, kThursday + 2h};
  auto spoken = SpokenIn(hasty, first, 5min, 20min);
  CHECK(GapsIn(spoken, first.from, first.to, 20min).size() == 1);
  for (const HungSpan& span : SpokenIn(slow, second, 5min, 140min)) spoken.push_back(span);
  CHECK(GapsIn(spoken, first.from, first.to, 20min).empty());
}

// ---- what nobody believes ----

Doubt Stuck(Instant from, Instant to) { return {rules::AlarmKind::kProbeStuck, 1, from, to}; }

TEST_CASE("of a stuck probe what stands still is taken out, from the last that it believably said") {
  auto buckets = Buckets(kThursday, {12.0, 12.1, 12.0, 12.2, 12.2, 12.2, 12.2, 12.2, 12.2, 12.2, 12.0, 12.1});
  const auto taken = TakeDoubted(buckets, {Stuck(kThursday + 17min, kThursday + 50min)}, 5min);
  REQUIRE(taken.size() == 1);
  CHECK(taken.front().from == kThursday + 17min);
  CHECK(taken.front().to == kThursday + 50min);
  CHECK(buckets.size() == 5);
}

TEST_CASE("a channel of the same probe that goes on moving is believed, and so is a rest of some minutes") {
  const auto all = Buckets(kThursday, {12.0, 12.1, 12.0, 12.0, 12.0, 12.0, 12.0, 12.1, 12.0, 12.1});
  auto buckets = all;
  CHECK(TakeDoubted(buckets, {Stuck(kThursday, kThursday + 50min)}, 5min).empty());
  CHECK(buckets.size() == all.size());
}

TEST_CASE("what stood still before a doubt or after it is believed") {
  auto buckets = Buckets(kThursday, std::vector<double>(24, 12.0));
  const auto taken = TakeDoubted(buckets, {Stuck(kThursday + 30min, kThursday + 1h)}, 5min);
  REQUIRE(taken.size() == 1);
  CHECK(taken.front().from == kThursday + 30min);
  CHECK(taken.front().to == kThursday + 1h);
  CHECK(buckets.size() == 18);
}

TEST_CASE("of a wet probe everything is taken, moving or not") {
  auto buckets = Buckets(kThursday, {98.6, 98.9, 99.1, 98.7});
  const auto taken = TakeDoubted(buckets, {{rules::AlarmKind::kProbeWet, 1, kThursday, kThursday + 20min}}, 5min);
  REQUIRE(taken.size() == 1);
  CHECK(taken.front().kind == rules::AlarmKind::kProbeWet);
  CHECK(buckets.empty());
}

TEST_CASE("while another probe speaks nothing is unknown, and what it leaves out is") {
  const DoubtedSpan doubted{rules::AlarmKind::kProbeStuck, 1, kThursday, kThursday + 3h};
  const auto left = [&](const std::vector<Bucket>& believed) { return LeftUnknown({doubted}, believed, 5min, 20min); };
  CHECK(left(Buckets(kThursday - 1h, std::vector<double>(60, 12.0))).empty());
  const auto alone = left({});
  REQUIRE(alone.size() == 1);
  CHECK(alone.front().from == kThursday);
  CHECK(alone.front().to == kThursday + 3h);
  const auto ended = left(Buckets(kThursday - 1h, std::vector<double>(24, 12.0)));
  REQUIRE(ended.size() == 1);
  CHECK(ended.front().from == kThursday + 1h);
  CHECK(ended.front().to == kThursday + 3h);
}

TEST_CASE("a wet probe is doubted for its humidity alone") {
  Keeping keeping;
  keeping.Do("probe", AirProbe("Air", "a", NewCave("fridge")));
  const std::vector<Doubt> wet{{rules::AlarmKind::kProbeWet, 1, kThursday, kThursday + 1h}};
  CHECK(DoubtsOf(keeping.book, wet, 1).empty());
  CHECK(DoubtsOf(keeping.book, wet, 2).size() == 1);
  CHECK(DoubtsOf(keeping.book, {Stuck(kThursday, kThursday + 1h)}, 1).size() == 1);
  CHECK(DoubtsOf(keeping.book, {Stuck(kThursday, kThursday + 1h)}, 3).empty());
}

// ---- which channels told, and when ----

TEST_CASE("the channels of a cave are those that hung there, each for as long as it did") {
  Keeping keeping;
  keeping.Do("probe", AirProbe("Air", "a", NewCave("fridge")));
  keeping.now += 1h;
  keeping.Do("probe", AirProbe("Air", "a", NewCave("room")));
  keeping.now += 1h;
  const auto fridge = ChannelsOf(keeping.book, 1, ChannelKind::kTemperature, kThursday - 1h, keeping.now);
  REQUIRE(fridge.size() == 1);
  CHECK(fridge.front().channel == 1);
  CHECK(fridge.front().from == kThursday);
  CHECK(fridge.front().to == kThursday + 1h);
  const auto room = ChannelsOf(keeping.book, 2, ChannelKind::kHumidity, kThursday - 1h, keeping.now);
  REQUIRE(room.size() == 1);
  CHECK(room.front().channel == 2);
  CHECK(room.front().from == kThursday + 1h);
  CHECK(room.front().to == keeping.now);
}

TEST_CASE("a move of a probe that was undone cuts nothing off") {
  Keeping keeping;
  keeping.Do("probe", AirProbe("Air", "a", NewCave("fridge")));
  keeping.now += 1h;
  const JournalLine moved = keeping.Do("probe", AirProbe("Air", "a", NewCave("room")));
  keeping.now += 1h;
  keeping.Do("undo", {{"of", moved.id}});
  const auto fridge = ChannelsOf(keeping.book, 1, ChannelKind::kTemperature, kThursday, keeping.now);
  REQUIRE(fridge.size() == 1);
  CHECK(fridge.front().to == keeping.now);
}

TEST_CASE("the air of a cave without a thermometer is that of the nearest cave around it") {
  Keeping keeping;
  keeping.Do("probe", AirProbe("Air", "a", NewCave("room")));
  keeping.Do("enter", PressedWheels(1, NewCaveIn("fridge", 1)));
  keeping.Do("enter", PressedWheels(1, NewCaveIn("box", 2)));
  keeping.now += 1h;
  const auto of = [&](std::int64_t cave) {
    return AirOf(keeping.book, *keeping.book.Cave(cave), kThursday, keeping.now);
  };
  REQUIRE(of(3).size() == 1);
  CHECK(of(3).front().channel == 1);
  keeping.Do("probe", AirProbe("Box air", "b", InCave(3)));
  keeping.now += 1h;
  REQUIRE(of(3).size() == 1);
  CHECK(of(3).front().channel == 3);
}

}  // namespace
}  // namespace rindwatch
