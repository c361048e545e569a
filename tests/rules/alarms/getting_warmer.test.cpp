// Air that leaves its usual and does not turn, and what it means for the wheels. Invented caves, wheels and probes.
#include <algorithm>
#include <cmath>

#include "rules/alarms/first.hpp"
#include "tests/catch.hpp"
#include "tests/rules/alarms/plant.hpp"

namespace rindwatch::rules {

TEST_CASE("a plant without cold rings before its air has been out for long, and says how long the wheels have") {
  Scene scene = Fridge(250);
  scene.Run(days{6});
  CHECK(scene.Told().empty());
  const Millis dead = scene.Since();
  scene.Temperature([dead](Millis since) { return 20 - 7.6 * std::exp(-Minutes(since - dead) / 240); });
  scene.Run(hours{3});
  REQUIRE(!scene.decisions.empty());
  const Alarm& alarm = scene.decisions.front().alarm;
  CHECK(alarm.kind == AlarmKind::kTooWarm);
  CHECK(alarm.severity == Severity::kAct);
  CHECK(alarm.why == Why::kNotTurning);
  CHECK(alarm.raised - scene.At(dead) < hours{2});
  REQUIRE(alarm.matters.size() == 1);
  CHECK(alarm.matters[0].wheels == std::vector<WheelId>{1});
  CHECK(alarm.matters[0].soonest > minutes{0});
  CHECK(alarm.matters[0].soonest < hours{3});
}

TEST_CASE("what rang by not turning is too warm from when it left its band, and until then only getting warmer") {
  Scene scene = Fridge();
  scene.Run(days{6}).Told();
  const Millis begun = scene.Since();
  // It creeps up for half a day, and comes to rest beyond its band.
  scene.Temperature([begun](Millis since) { return Saw(since) + std::min(2.6, 0.2 * Minutes(since - begun) / 60); });
  std::optional<Instant> left;
  for (int hour = 0; hour < 16; ++hour) {
    scene.Run(hours{1});
    const auto alarms = scene.state.Alarms();
    const auto warm = std::ranges::find(alarms, AlarmKind::kTooWarm, &Alarm::kind);
    if (warm == alarms.end()) continue;
    CAPTURE(hour, warm->extreme, ToText(warm->why));
    if (NeverLeft(*warm)) {
      CHECK(warm->since < scene.At(begun + hours{8}));
    } else if (warm->why == Why::kNotTurning) {
      left = warm->since;
    }
  }
  REQUIRE(left);
  CHECK(*left > scene.At(begun + hours{8}));
}

TEST_CASE("a wheel that its cave never suits does not lead a forecast with now") {
  Scene scene = Fridge(250);
  // It wants the cold store, and lies at 12.5 degrees all its days.
  scene.Lay(2, Scene::kFridge, PlanOf("held", 2, Figure{2, 6, "CP"}, std::nullopt), 2000).Run(days{6});
  scene.Told();
  const Millis dead = scene.Since();
  scene.Temperature([dead](Millis since) { return 20 - 7.6 * std::exp(-Minutes(since - dead) / 240); });
  scene.Run(hours{2});
  REQUIRE(!scene.state.Alarms().empty());
  const Alarm alarm = scene.state.Alarms().front();
  REQUIRE(alarm.matters.size() == 2);
  CHECK(alarm.matters.front().wheels == std::vector<WheelId>{1});
  CHECK(alarm.matters.front().soonest > minutes{0});
  CHECK(alarm.matters.back().soonest > alarm.matters.front().soonest);
}

TEST_CASE("behind a door that stands open the air comes to rest, and wheels are foreseen all the same") {
  Scene scene = Fridge(8000);
  scene.Run(days{6});
  const Millis opened = scene.Since();
  scene.Temperature([opened](Millis since) {
    const double t = Minutes(since - opened);
    return 12.5 + 7.5 * (1 - std::exp(-t / 15)) + 0.2 * std::sin(t / 6);
  });
  scene.Run(hours{2});
  REQUIRE(!scene.state.Alarms().empty());
  const Alarm alarm = scene.state.Alarms().front();
  REQUIRE(alarm.matters.size() == 1);
  const Matter matter = alarm.matters.front();
  CHECK(matter.soonest > minutes{0});
  REQUIRE(matter.latest);
  // And so it comes: its core leaves 14.5 within the span, taken off what passed since the forecast of this hour.
  const Instant foreseen = scene.Now() - (scene.Now() - alarm.raised) % minutes{15};
  while (scene.View().wheels.at(0).core < 14.5) scene.Run(minutes{5});
  CHECK(scene.Now() >= foreseen + matter.soonest);
  CHECK(scene.Now() <= foreseen + *matter.latest + minutes{5});
}

TEST_CASE("a plant that dies in the first days is told by what is usual anywhere") {
  Scene scene = Fridge(250);
  scene.Run(hours{30});
  const Millis dead = scene.Since();
  scene.Temperature([dead](Millis since) { return 20 - 7.6 * std::exp(-Minutes(since - dead) / 240); });
  scene.Run(hours{4});
  const auto aloud =
      std::ranges::find_if(scene.decisions, [](const Decision& one) { return one.alarm.severity >= Severity::kAct; });
  REQUIRE(aloud != scene.decisions.end());
  CHECK(aloud->alarm.why == Why::kNotTurningYet);
}

}  // namespace rindwatch::rules
