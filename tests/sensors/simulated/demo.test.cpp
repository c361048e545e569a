#include "sensors/simulated/demo.hpp"

#include "tests/catch.hpp"
#include "tests/sensors/simulated/fridges.hpp"

using namespace rindwatch::sensors::simulated;
using namespace std::chrono_literals;
using std::chrono::seconds;

TEST_CASE("the demo's door was left ajar on an evening two and a half to three and a half days ago") {
  for (seconds starts_at{0}; starts_at < 24h; starts_at += 30min) {
    const DemoTimes times{.seed = 1, .starts_at = starts_at};
    const DemoMishap door = DemoDoorLeftAjar(times).value();
    INFO("now is " << starts_at.count() << " s into the day");
    CHECK((door.from + starts_at) % seconds{24h} == seconds{18h + 30min});
    CHECK(times.past - door.from >= 60h);
    CHECK(times.past - door.from <= 84h);
    CHECK(door.until - door.from == 1h + 50min);
  }
}

TEST_CASE("the small wheels came at 17:20, nine keeper's days ago, or lie there already if the past is shorter") {
  for (seconds starts_at{0}; starts_at < 24h; starts_at += 30min) {
    const DemoTimes times{.seed = 1, .starts_at = starts_at};
    const seconds came = DemoBloomiesCame(times);
    INFO("now is " << starts_at.count() << " s into the day");
    CHECK((came + starts_at) % seconds{24h} == seconds{17h + 20min});
    // Before 04:00 it is still yesterday.
    const seconds midnight = times.past - starts_at - (starts_at < 4h ? 24h : 0h);
    CHECK(midnight - came == 9 * 24h - (17h + 20min));
  }
  CHECK(DemoSpec({.seed = 1, .starts_at = 9h, .past = 24h}).wheels.size() == 4);
  CHECK(DemoSpec({.seed = 1, .starts_at = 9h}).arrivals.size() == 2);
}

TEST_CASE("a past too short for the mishap has none") {
  const DemoTimes times{.seed = 1, .starts_at = 9h, .past = 24h};
  CHECK(DemoSpec(times).mishaps.empty());
  CHECK(DemoSpec(times).boxes[0].lid == Lid::kShut);
}

TEST_CASE("the demo lives fourteen plausible days: in band but for the door, which rings long enough, and healed now") {
  const DemoTimes times{.seed = GENERATE(std::uint64_t{20}, std::uint64_t{21}), .starts_at = 9h};
  const DemoMishap door = DemoDoorLeftAjar(times).value();
  Fridge fridge = DemoFridge(times);
  const seconds came = DemoBloomiesCame(times);
  fridge.Step(12h);
  const auto alone = Live(fridge, came - fridge.Elapsed());
  CHECK(MeanOf(alone, AirOf) == Approx(12.6).margin(0.3));
  CHECK(alone.back().wheels.size() == 2);
  CHECK(MeanOf(alone, BoxHumidityOf) < 85);
  const auto first = Live(fridge, 12h);
  CHECK(first.front().wheels.size() == 4);
  // Wheels out of the drying rest are no alarm: half an hour's mean stays below the edge of any band there.
  double warmest_half = 0;
  for (std::size_t i = 0; i + 180 <= first.size(); i += 30) {
    const std::vector<Truth> half(first.begin() + static_cast<long>(i), first.begin() + static_cast<long>(i + 180));
    warmest_half = std::max(warmest_half, MeanOf(half, [](const Truth& t) { return t.boxes[0].celsius; }));
  }
  CHECK(warmest_half < 14.3);
  const auto drying = Live(fridge, 24h);
  CHECK(MeanOf(drying, BoxHumidityOf) == Approx(87).margin(3));
  fridge.Step(36h);
  const auto before = Live(fridge, door.from - fridge.Elapsed());
  CHECK(MeanOf(before, AirOf) == Approx(12.6).margin(0.3));
  CHECK(MeanOf(before, BoxHumidityOf) > 91);
  CHECK(MeanOf(before, BoxHumidityOf) < 96);
  CHECK(MeanOf(before, [](const Truth& t) { return t.boxes[1].humidity; }) == Approx(84).margin(4));
  // No hour of these days is warm in the mean: nothing but the door rings.
  double warmest_hour = 0;
  for (std::size_t i = 0; i + 360 <= before.size(); i += 90) {
    const std::vector<Truth> hour(before.begin() + static_cast<long>(i), before.begin() + static_cast<long>(i + 360));
    warmest_hour = std::max(warmest_hour, MeanOf(hour, AirOf));
  }
  CHECK(warmest_hour < 14.2);
  fridge.Step(30min);
  const auto ajar = Live(fridge, 80min - 10s);
  CHECK(LowestOf(ajar, AirOf) > 14.8);
  fridge.Step(6h);
  const auto after = Live(fridge, times.past - fridge.Elapsed());
  CHECK(MeanOf(after, AirOf) == Approx(12.6).margin(0.3));
  const Truth now = fridge.Now();
  CHECK(now.at == kDemoPast);
  CHECK(now.door == 0);
  CHECK(now.wheels[0].grams == Approx(1455).margin(30));
  CHECK(now.wheels[1].grams == Approx(360).margin(15));
  for (std::size_t n = 2; n < 4; ++n) CHECK(now.wheels[n].grams == Approx(239).margin(12));
}
