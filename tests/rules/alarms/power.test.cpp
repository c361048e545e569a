// All probes silent at once, and times that nobody watched. Invented caves, wheels and probes.
#include <algorithm>

#include "tests/catch.hpp"
#include "tests/rules/alarms/plant.hpp"

namespace rindwatch::rules {
TEST_CASE(
    "where each place has but one probe, all of the house silent together is told as power, and one alone is not") {
  Scene scene = Fridge();
  scene.Give(Scene::kRoom).Lay(7, Scene::kRoom, Bloomy(), 250).Hang(2, Scene::kRoom);
  scene.Temperature([](Millis since) { return Saw(since) - 1; }, 2).Humidity(Lively(93), 2).Run(hours{2});
  scene.Told();
  SECTION("both") {
    scene.Silent(1).Silent(2).Run(minutes{30});
    const std::vector<std::string> told = scene.Told();
    CHECK(told == std::vector<std::string>{"2:03 power gone raised act", "2:03 power gone raised act"});
    for (const Alarm& alarm : scene.state.Alarms()) CHECK(alarm.why == Why::kEverywhere);
  }
  SECTION("one") {
    scene.Silent(2).Run(hours{1});
    const std::vector<std::string> told = scene.Told();
    REQUIRE(told.size() == 1);
    CHECK(told[0].find("probe silent raised watch") != std::string::npos);
  }
}

TEST_CASE("all probes of a fridge silent together is its power, told at once and never twice") {
  Scene scene = Fridge();
  scene.Hang(2, Scene::kFridge);
  scene.Temperature([](Millis since) { return Saw(since) + 0.2; }, 2).Humidity(Lively(84), 2).Run(hours{2});
  scene.Silent(1).Silent(2).Run(hours{7});
  CHECK(scene.Told() == Lines{"2:03 power gone raised act", "8:00 power gone raised severity urgent"});
  CHECK(scene.View().state == CaveState::kUnknown);
  scene.Temperature(16.5).Humidity(90).Temperature(16.6, 2).Humidity(90, 2).Run(minutes{2});
  REQUIRE(!scene.decisions.empty());
  const Decision& over = scene.decisions.front();
  CHECK(over.change == Decision::Change::kOver);
  CHECK(over.alarm.kind == AlarmKind::kPowerGone);
  CHECK(over.alarm.extreme == Approx(16.5).margin(0.2));
  REQUIRE(over.alarm.warmest);
  CHECK(*over.alarm.warmest < 16.6);
  CHECK(*over.alarm.warmest > 13);
}

TEST_CASE("after a start it is told whether the fridge was without power or only the watch") {
  const auto after = [](double degrees) {
    Scene scene = Fridge();
    scene.Run(days{1}).Take(Stopped{});
    scene.Silent().Wait(hours{5}).Take(Started{});
    scene.Temperature(degrees).Humidity(85).Run(minutes{3});
    REQUIRE(!scene.decisions.empty());
    CHECK(scene.decisions.front().alarm.why == Why::kUnheard);
    CHECK(scene.decisions.back().change == Decision::Change::kOver);
    return scene.decisions.back().alarm;
  };
  const Alarm calm = after(12.5), warm = after(15.1);
  CHECK(calm.kind == AlarmKind::kUnwatched);
  CHECK(calm.why == Why::kOnlyTheWatch);
  CHECK(calm.severity == Severity::kHint);
  CHECK(warm.why == Why::kWarmedMeanwhile);
  CHECK(warm.severity == Severity::kWatch);
  CHECK(warm.before.value_or(0) == Approx(12.5).margin(0.5));
  CHECK(warm.value == Approx(15.1));
  REQUIRE(warm.warmest);
  CHECK(*warm.warmest < 15.1);
  CHECK(*warm.warmest > 13.3);
}

TEST_CASE("what a thermometer says before it has measured once is no air of a time that nobody watched") {
  Scene scene = Fridge();
  scene.Run(days{1}).Take(Stopped{});
  scene.Silent().Wait(hours{5}).Take(Started{});
  scene.Temperature(85).Humidity(85).Run(minutes{1});
  scene.Temperature(12.5).Run(minutes{3});
  const auto told = std::ranges::find(scene.decisions, Decision::Change::kOver, &Decision::change);
  REQUIRE(told != scene.decisions.end());
  CHECK(told->alarm.kind == AlarmKind::kUnwatched);
  CHECK(told->alarm.why == Why::kOnlyTheWatch);
  CHECK(told->alarm.value == Approx(12.5));
}

TEST_CASE("that nobody watched stands until the air is heard, and tells its span from the start on") {
  Scene scene = Fridge();
  scene.Run(days{1}).Take(Stopped{});
  const Instant left = scene.Now();
  scene.Silent().Wait(hours{5}).Take(Started{});
  const Instant start = scene.Now();
  const auto unwatched = [&]() -> std::optional<Alarm> {
    for (const Alarm& alarm : scene.state.Alarms()) {
      if (alarm.kind == AlarmKind::kUnwatched) return alarm;
    }
    return std::nullopt;
  };
  REQUIRE(unwatched());
  CHECK_FALSE(unwatched()->over);
  CHECK_FALSE(unwatched()->warmest);
  CHECK(unwatched()->since == left);
  CHECK(unwatched()->LastedUntil() == start);
  scene.Wait(hours{2});
  CHECK_FALSE(unwatched()->over);
  SECTION("what comes long after says how it is, and of whose power nothing") {
    scene.Temperature(15.1).Humidity(85).Run(minutes{3});
    CHECK(unwatched()->over);
    CHECK(unwatched()->why == Why::kUnheard);
    CHECK(unwatched()->severity == Severity::kHint);
    CHECK(unwatched()->value == Approx(15.1));
    CHECK(unwatched()->LastedUntil() == start);
  }
  SECTION("where no probe hangs any more nothing is waited for") {
    scene.Hang(Scene::kProbe, std::nullopt);
    CHECK(unwatched()->over);
  }
}

}  // namespace rindwatch::rules
