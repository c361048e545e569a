// Where the air may go, as the page draws it, and who is there.
#include "rules/alarms/ahead.hpp"

#include <cmath>

#include "tests/catch.hpp"
#include "tests/rules/alarms/plant.hpp"

namespace rindwatch::rules {
namespace {

TEST_CASE("calm air foretells nothing; air on its way up a span that widens around where it goes") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Bloomy(), 250).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(12).Humidity(92).Run(days{2});
  CHECK(AirAhead(scene.state, Scene::kFridge, scene.Now()).empty());
  CHECK(AirAhead(scene.state, 77, scene.Now()).empty());
  const Millis since = scene.Since();
  // A dead plant: the air goes to 22 degrees in 4 h.
  const auto course = [since](Millis at) {
    return 22 - 10 * std::exp(-std::chrono::duration<double, std::ratio<3600>>(at - since).count() / 4);
  };
  scene.Temperature(course).Run(hours{2});
  const std::vector<AirSpan> spans = AirAhead(scene.state, Scene::kFridge, scene.Now());
  REQUIRE(spans.size() == 9);
  CHECK(spans.front().low == spans.front().high);
  for (std::size_t i = 1; i < spans.size(); ++i) {
    CHECK(spans[i].seconds == Approx(1800.0 * static_cast<double>(i)));
    CHECK(spans[i].low <= spans[i].high);
    CHECK(spans[i].high - spans[i].low >= spans[i - 1].high - spans[i - 1].low);
  }
  const double truth = course(scene.Since() + hours{4});
  CHECK(spans.back().low - 0.3 < truth);
  CHECK(truth < spans.back().high + 0.3);
}

TEST_CASE("wheels that the rising air does not reach within two days are said to be far") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Bloomy(), 250);
  scene.Lay(2, Scene::kFridge, PlanOf("drying", 2, Figure{10, 32, ""}, {}), 5000).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(12).Humidity(92).Run(days{2});
  const Millis since = scene.Since();
  scene.Temperature([since](Millis at) {
    return 18.5 - 6.5 * std::exp(-std::chrono::duration<double, std::ratio<3600>>(at - since).count() / 4);
  });
  scene.Run(hours{3});
  const auto alarms = scene.state.Alarms();
  REQUIRE(alarms.size() == 1);
  REQUIRE(alarms.front().matters.size() == 2);
  CHECK(alarms.front().matters.front().wheels == std::vector<WheelId>{1});
  CHECK_FALSE(alarms.front().matters.front().IsFar());
  CHECK(alarms.front().matters.back().IsFar());
  CHECK_FALSE(alarms.front().matters.back().latest);
}

TEST_CASE("wheels in a box with a probe of its own have a forecast of their own in the alarm of their fridge") {
  Scene scene;
  scene.Give(Scene::kFridge).Give(Scene::kBox, Scene::kFridge).Lay(1, Scene::kBox, Bloomy(), 250);
  scene.Lay(2, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge).Hang(2, Scene::kBox);
  scene.Temperature(12).Temperature(12, 2).Humidity(85).Humidity(92, 2).Run(days{2});
  const Millis since = scene.Since();
  const auto course = [since](Millis at) {
    return 22 - 10 * std::exp(-std::chrono::duration<double, std::ratio<3600>>(at - since).count() / 8);
  };
  scene.Temperature(course).Temperature(course, 2).Run(hours{3});
  Alarm alarm;
  alarm.kind = AlarmKind::kTooWarm;
  alarm.cave = Scene::kFridge;
  alarm.since = scene.At(since);
  const std::vector<Matter> matters = MattersWithin(scene.state, alarm, scene.Now());
  REQUIRE(matters.size() == 1);
  CHECK(matters.front().wheels == std::vector<WheelId>{1});
  alarm.cave = Scene::kRoom;
  CHECK(MattersWithin(scene.state, alarm, scene.Now()).empty());
  alarm.cave = Scene::kFridge;
  alarm.over = scene.Now();
  CHECK(MattersWithin(scene.state, alarm, scene.Now()).empty());
}

TEST_CASE("of a fridge that fell silent as a whole it is foreseen from its last word, and time runs off it") {
  Scene scene;
  scene.Give(Scene::kFridge).Give(Scene::kBox, Scene::kFridge).Lay(1, Scene::kBox, Bloomy(), 250);
  scene.Lay(2, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge).Hang(2, Scene::kBox);
  scene.Temperature(12).Temperature(12, 2).Humidity(85).Humidity(92, 2).Run(days{2});
  scene.Silent().Silent(2).Run(std::chrono::minutes{20});
  const auto alarms = scene.state.Alarms();
  REQUIRE(alarms.size() == 1);
  REQUIRE(alarms.front().kind == AlarmKind::kPowerGone);
  const std::vector<Matter> soon = MattersWithin(scene.state, alarms.front(), scene.Now());
  REQUIRE(soon.size() == 2);
  for (const Matter& matter : soon) {
    const bool small = matter.wheels == std::vector<WheelId>{1};
    CAPTURE(small, matter.soonest.count() / 60000);
    // Common practice, no source: a shut fridge keeps for some hours.
    CHECK(matter.soonest >= (small ? std::chrono::minutes{30} : std::chrono::minutes{90}));
    CHECK(matter.soonest <= (small ? hours{4} : hours{8}));
    CHECK((!matter.latest || *matter.latest > hours{8}));
  }
  scene.Run(std::chrono::minutes{30});
  const std::vector<Matter> later = MattersWithin(scene.state, scene.state.Alarms().front(), scene.Now());
  REQUIRE(later.size() == 2);
  CHECK(soon.front().soonest - later.front().soonest == std::chrono::minutes{30});
}

TEST_CASE("how warm the days before were is known of a place that fell silent, how the last day was is not") {
  Scene scene = Fridge();
  scene.Run(days{4});
  REQUIRE(DaysBeforeOf(scene.state, Scene::kFridge, scene.Now()));
  REQUIRE(DayMeanOf(scene.state, Scene::kFridge, scene.Now()));
  scene.Silent().Wait(hours{1});
  CHECK(DaysBeforeOf(scene.state, Scene::kFridge, scene.Now()) == Approx(12.5).margin(0.1));
  CHECK_FALSE(DayMeanOf(scene.state, Scene::kFridge, scene.Now()));
}

TEST_CASE("a plant's cycle is seen in the air and told by its length and its swing; calm air has none") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Bloomy(), 250).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(12).Humidity(92).Run(hours{3});
  CHECK_FALSE(PlantCycleOf(scene.state, Scene::kFridge, scene.Now()));
  // Down in 5 minutes, up in 15, by 1.2 degrees.
  scene.Temperature([](Millis at) {
    const auto minute = static_cast<double>(at / minutes{1} % 20);
    return 12 + (minute < 5 ? 1.2 - 0.24 * minute : 0.08 * (minute - 5));
  });
  scene.Run(hours{3});
  const auto cycle = PlantCycleOf(scene.state, Scene::kFridge, scene.Now());
  REQUIRE(cycle);
  CHECK(cycle->period == minutes{20});
  CHECK(cycle->swing == Approx(1.2).margin(0.2));
  CHECK_FALSE(PlantCycleOf(scene.state, Scene::kRoom, scene.Now()));
}

TEST_CASE("somebody is there until they are out, in the cave and in what shares its air") {
  Scene scene;
  scene.Give(Scene::kFridge).Give(Scene::kBox, Scene::kFridge).Give(Scene::kRoom);
  CHECK_FALSE(HereUntil(scene.state, Scene::kFridge, scene.Now()));
  scene.Take(KeeperHere{Scene::kFridge});
  CHECK(HereUntil(scene.state, Scene::kFridge, scene.Now()) == scene.Now() + hours{1});
  CHECK(HereUntil(scene.state, Scene::kBox, scene.Now()) == scene.Now() + hours{1});
  CHECK_FALSE(HereUntil(scene.state, Scene::kRoom, scene.Now()));
  scene.Take(KeeperOut{Scene::kFridge});
  CHECK_FALSE(HereUntil(scene.state, Scene::kFridge, scene.Now()));
}

TEST_CASE("one who is known goes out alone, also by another place of that air; without a name nobody stays") {
  Scene scene;
  scene.Give(Scene::kFridge).Give(Scene::kBox, Scene::kFridge);
  const auto until = [&] { return HereUntil(scene.state, Scene::kFridge, scene.Now()); };
  scene.Take(KeeperHere{Scene::kFridge, "IH"});
  const Instant first = scene.Now() + hours{1};
  scene.Wait(minutes{20}).Take(KeeperHere{Scene::kFridge, "TR"});
  const Instant second = scene.Now() + hours{1};
  CHECK(until() == second);
  SECTION("the other stays for as long as they said themselves") {
    scene.Take(KeeperOut{Scene::kBox, "TR"});
    CHECK(until() == first);
    scene.Take(KeeperOut{Scene::kFridge, "IH"});
    CHECK_FALSE(until());
  }
  SECTION("the last who came stays") {
    scene.Take(KeeperOut{Scene::kFridge, "IH"});
    CHECK(until() == second);
  }
  SECTION("who is not known to be there ends only what was said without a name") {
    scene.Wait(minutes{5}).Take(KeeperHere{Scene::kFridge});
    scene.Take(KeeperOut{Scene::kFridge, "AB"});
    CHECK(until() == second);
  }
  SECTION("without a name nobody stays") {
    scene.Take(KeeperOut{Scene::kFridge});
    CHECK_FALSE(until());
  }
}

}  // namespace
}  // namespace rindwatch::rules
