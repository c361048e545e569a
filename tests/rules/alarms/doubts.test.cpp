// Probes that repeat themselves, are wet, run empty or fall silent alone. Invented caves, wheels and probes.
#include <algorithm>
#include <cmath>

#include "tests/catch.hpp"
#include "tests/rules/alarms/plant.hpp"

namespace rindwatch::rules {
TEST_CASE("a probe that repeats itself is stuck, its cave unknown, until it moves again") {
  Scene scene = Fridge();
  scene.Run(days{5}).Temperature(12.4).Humidity(85).Run(hours{1});
  const Lines told = scene.Told();
  REQUIRE(told.size() == 1);
  CHECK(told[0].find("probe stuck raised watch") != std::string::npos);
  CHECK(scene.View().temperature.state == CaveState::kUnknown);
  CHECK(scene.View().temperature.doubted);
  CHECK_FALSE(scene.View().temperature.silent);
  scene.Temperature([](Millis since) { return Saw(since); }).Humidity(Lively(85)).Run(minutes{10});
  CHECK(scene.Told().size() == 1);
  CHECK_FALSE(scene.View().temperature.doubted);
  CHECK(scene.View().temperature.settling);
}

TEST_CASE("in its first days a probe of which both channels stand still at once is stuck far sooner than one alone") {
  Scene scene = Fridge();
  scene.Run(hours{11}).Temperature(12.4).Humidity(85.3).Run(hours{6});
  const Lines told = scene.Told();
  REQUIRE(told.size() == 1);
  CHECK(told[0] == "13:01 probe stuck raised watch");
  CHECK(scene.View().temperature.state == CaveState::kUnknown);

  SECTION("which teaches nothing") {
    scene.Temperature(UsualSaw).Humidity(Lively(85)).Run(days{4});
    CHECK(scene.Told().size() == 1);
    scene.Temperature(12.4).Humidity(85.3).Run(hours{1});
    CHECK(scene.Told().size() == 1);
  }
}

TEST_CASE("in its first days air that is calm, or a probe whose steps are coarse, is not called stuck") {
  Scene scene = Fridge();
  SECTION("of one channel alone nothing is known yet") {
    scene.Run(hours{11}).Temperature(12.4).Run(hours{5});
    CHECK(scene.Told() == Lines{});
  }
  SECTION("both stand for hours in a calm cellar, as they did before") {
    const auto coarse = [](double mean, double swing, double step) {
      return [=](Millis since) { return step * std::round((mean + swing * std::sin(Minutes(since) / 229)) / step); };
    };
    scene.Temperature(coarse(12.5, 0.7, 0.1)).Humidity(coarse(85, 2.2, 1)).Run(days{4});
    CHECK(scene.Told() == Lines{});
  }
  SECTION("a probe that has hardly spoken") {
    scene.Run(hours{2}).Temperature(12.4).Humidity(85.3).Run(hours{3});
    CHECK(scene.Told() == Lines{});
  }
}

TEST_CASE("a probe that speaks only when something changes, or drops out, is not stuck") {
  Scene scene = Fridge();
  scene.Run(days{5}).Silent().Run(minutes{40});
  scene.Temperature(12.4).Humidity(85.2).Run(minutes{5});
  scene.Temperature([](Millis since) { return Saw(since); }).Humidity(Lively(85)).Run(hours{2});
  const Lines told = scene.Told();
  CHECK(std::ranges::none_of(told, [](const std::string& line) { return line.find("stuck") != std::string::npos; }));
}

TEST_CASE("a wet sensor is told as wet and never as too damp; in a shut box nothing is told") {
  Scene scene = Fridge();
  scene.Run(hours{3}).Humidity([](Millis since) { return 99.2 + 0.1 * std::sin(Minutes(since)); }).Run(days{2});
  const Lines told = scene.Told();
  REQUIRE(told.size() == 1);
  CHECK(told[0].find("probe wet raised watch") != std::string::npos);
  REQUIRE(scene.state.Alarms().size() == 1);
  REQUIRE(scene.state.Alarms().front().said.size() == 1);
  CHECK(scene.state.Alarms().front().said.front().kind == ChannelKind::kHumidity);
  CHECK(scene.state.Alarms().front().said.front().value == Approx(99.2).margin(0.2));
  CHECK(scene.View().humidity.state == CaveState::kUnknown);
  scene.Humidity(Lively(85)).Run(hours{2});
  CHECK(scene.Told().size() == 1);

  Scene box;
  box.Give(Scene::kFridge).Give(Scene::kBox, Scene::kFridge);
  box.Lay(1, Scene::kBox, PlanOf("open", 0, Figure{9.5, 13.5, ""}, Figure{88, 100, ""}), 250).Hang(1, Scene::kBox);
  box.Temperature(Lively(12)).Humidity(99.9).Run(days{3});
  CHECK(box.Told().empty());
}

TEST_CASE("a battery is a hint at 20 and a watch at 10 percent, once each, and over when it is changed") {
  Scene scene = Fridge();
  scene.HangChannel(18, Scene::kProbe, ChannelKind::kBattery, Scene::kFridge).Run(hours{1});
  for (const double left : {21.0, 20.0, 19.0, 20.5, 11.0, 10.0, 9.0, 100.0}) scene.Say(18, left);
  CHECK(scene.Told() ==
        Lines{"1:00 battery low raised hint", "1:00 battery low raised severity watch", "1:00 battery low over"});
  SECTION("a new one is back, whatever the figures of a cave come to") {
    scene.own = {{"battery: hint at", 80}, {"battery: over above the first by", 30}};
    scene.Give(Scene::kFridge);
    for (const double left : {79.0, 90.0, 100.0}) scene.Say(18, left);
    CHECK(scene.Told() == Lines{"1:00 battery low raised hint", "1:00 battery low over"});
  }
}

TEST_CASE("a probe that falls silent with an empty battery is one event, told as silence") {
  Scene scene = Fridge();
  scene.HangChannel(18, Scene::kProbe, ChannelKind::kBattery, Scene::kFridge).Run(hours{1});
  scene.Say(18, 8);
  CHECK(scene.Told() == Lines{"1:00 battery low raised watch"});
  scene.Silent().Run(hours{2});
  const auto alarms = scene.state.Alarms();
  const auto battery = std::ranges::find(alarms, AlarmKind::kBatteryLow, &Alarm::kind);
  const auto silent = std::ranges::find(alarms, AlarmKind::kProbeSilent, &Alarm::kind);
  REQUIRE(battery != alarms.end());
  REQUIRE(silent != alarms.end());
  CHECK(battery->told_by == silent->id);
}

TEST_CASE("one probe alone that falls silent is no power cut") {
  Scene scene = Fridge();
  scene.Run(hours{2}).Silent().Run(hours{1});
  const Lines told = scene.Told();
  REQUIRE(told.size() == 1);
  CHECK(told[0].find("probe silent") != std::string::npos);
}

TEST_CASE("at night a silent probe waits for morning while another one near it speaks and the air was calm") {
  Scene scene = Fridge();
  scene.Give(Scene::kBox, Scene::kFridge).Hang(2, Scene::kBox);
  scene.Temperature([](Millis since) { return Saw(since) + 0.2; }, 2).Humidity(Lively(84), 2);
  scene.Run(hours{17}).Silent(1).Run(hours{12});  // from 23:00
  CHECK_FALSE(scene.decisions.front().alarm.waited);
  CHECK(scene.decisions.back().alarm.waited);
  CHECK(scene.Told() == Lines{"17:45 probe silent raised watch", "24:30 probe silent raised severity act"});
}

}  // namespace rindwatch::rules
