// A humidifier without water and a drain that is blocked, by their contacts. Invented.
#include "rules/alarms/water.hpp"

#include <algorithm>
#include <cmath>

#include "tests/catch.hpp"
#include "tests/rules/alarms/scene.hpp"

namespace rindwatch::rules {
namespace {

constexpr ChannelId kFloat = 17, kDrain = 18;
constexpr double kWater = 1, kNone = 0;

Scene Fridge() {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
  scene.HangChannel(kFloat, Scene::kProbe, ChannelKind::kHumidifierWater, Scene::kFridge);
  scene.HangChannel(kDrain, Scene::kProbe, ChannelKind::kDrainWater, Scene::kFridge);
  scene.Temperature(12.5).Humidity(85).Run(hours{2});
  scene.Say(kFloat, kWater).Say(kDrain, kNone);
  return scene;
}

const Alarm& Of(const std::vector<Alarm>& alarms, AlarmKind kind) {
  const auto found = std::ranges::find(alarms, kind, &Alarm::kind);
  REQUIRE(found != alarms.end());
  return *found;
}

}  // namespace

TEST_CASE(
    "a humidifier that is dry for half an hour is told quietly, and over when it has had water for five minutes") {
  Scene scene = Fridge();
  scene.Run(days{1}).Say(kFloat, kNone).Run(minutes{29});
  CHECK(scene.Told().empty());
  scene.Run(minutes{1});
  CHECK(scene.Told() == Lines{"26:30 humidifier dry raised watch"});
  const Alarm alarm = Of(scene.state.Alarms(), AlarmKind::kHumidifierDry);
  CHECK(alarm.since == scene.At(hours{26}));
  CHECK(alarm.why == Why::kContact);
  CHECK(alarm.wheels == std::vector<WheelId>{1});
  scene.Say(kFloat, kWater).Run(minutes{4});
  CHECK(scene.Told().empty());
  scene.Run(minutes{1});
  CHECK(scene.Told() == Lines{"26:35 humidifier dry over"});
}

TEST_CASE("water that stands at a drain for ten minutes is told quietly, and over when it has run off") {
  Scene scene = Fridge();
  scene.Say(kDrain, kWater).Run(minutes{9}).Say(kDrain, kNone).Run(hours{1});  // a defrost
  CHECK(scene.Told().empty());
  scene.Say(kDrain, kWater).Run(hours{1}).Say(kDrain, kNone).Run(minutes{5});
  CHECK(scene.Told() == Lines{"3:19 drain blocked raised watch", "4:14 drain blocked over"});
}

TEST_CASE("a float that bobs is neither water nor a new beginning") {
  Scene scene = Fridge();
  scene.Say(kFloat, kNone).Run(minutes{20});
  for (int i = 0; i < 8; ++i) scene.Say(kFloat, i % 2 ? kNone : kWater).Run(minutes{2});
  CHECK(scene.Told() == Lines{"2:30 humidifier dry raised watch"});  // with its next word that it is dry
  for (int i = 0; i < 8; ++i) scene.Say(kFloat, i % 2 ? kNone : kWater).Run(minutes{2});
  CHECK(scene.Told().empty());
}

TEST_CASE("a contact rings at its instant though no other probe speaks, once however often it speaks") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000);
  scene.HangChannel(kFloat, 1, ChannelKind::kHumidifierWater, Scene::kFridge);
  scene.Say(kFloat, kNone);
  CHECK(NextDeadline(scene.state).value() == scene.At(minutes{30}));
  for (int i = 0; i < 4000; ++i) scene.Wait(seconds{1}).Say(kFloat, kNone);
  CHECK(scene.Told() == Lines{"0:30 humidifier dry raised watch"});
  // It has nothing to say for days: that is no silence.
  scene.Wait(days{3});
  CHECK(scene.Told().empty());
}

TEST_CASE("both waits are limits of the cave, and a kind out of service is not judged") {
  Scene scene;
  scene.own.insert(scene.own.end(), {{"humidifier: dry for", 60}, {"drain: water stands for", 2}});
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000);
  scene.HangChannel(kFloat, 1, ChannelKind::kHumidifierWater, Scene::kFridge);
  scene.HangChannel(kDrain, 1, ChannelKind::kDrainWater, Scene::kFridge);
  scene.Say(kFloat, kNone).Say(kDrain, kWater).Wait(hours{2});
  CHECK(scene.Told() == Lines{"0:02 drain blocked raised watch", "1:00 humidifier dry raised watch"});
  CaveGiven given{Scene::kFridge, {}, DayTurn{}, {}, {}, scene.own};
  given.out_of_service = {AlarmKind::kHumidifierDry};
  scene.Take(given).Wait(hours{5});
  CHECK(scene.Told() == Lines{"2:00 humidifier dry over"});
}

TEST_CASE("where no humidity is asked for a dry humidifier is a hint; water on the floor is told all the same") {
  Scene scene;
  scene.Give(Scene::kRoom);
  scene.HangChannel(kFloat, 1, ChannelKind::kHumidifierWater, Scene::kRoom);
  scene.HangChannel(kDrain, 1, ChannelKind::kDrainWater, Scene::kRoom);
  scene.Say(kFloat, kNone).Say(kDrain, kWater).Wait(hours{1});
  CHECK(scene.Told() == Lines{"0:10 drain blocked raised watch", "0:30 humidifier dry raised hint"});
}

TEST_CASE("dry air and a dry humidifier are one alarm, which says so, whichever came first") {
  Scene scene = Fridge();
  SECTION("the humidifier first: it is quiet from then on") {
    scene.Say(kFloat, kNone).Run(hours{1});
    CHECK(scene.Told() == Lines{"2:30 humidifier dry raised watch"});
    scene.Humidity(77).Run(hours{4});
    const Lines told = scene.Told();
    REQUIRE(told.size() == 2);
    CHECK(told[0].find("too dry raised watch") != std::string::npos);
    CHECK(told[1].find("humidifier dry quieted") != std::string::npos);
    CHECK(Of(scene.state.Alarms(), AlarmKind::kTooDry).cause == AlarmKind::kHumidifierDry);
    // The air is well again before the humidifier is: that is worth its own word.
    scene.Humidity(85).Run(hours{4});
    const Lines after = scene.Told();
    REQUIRE(after.size() == 2);
    CHECK(after[0].find("too dry over") != std::string::npos);
    CHECK(after[1].find("humidifier dry back") != std::string::npos);
  }
  SECTION("the air first: the humidifier is named and not told") {
    scene.Humidity(77).Run(hours{4});
    CHECK(scene.Told().size() == 1);
    CHECK_FALSE(Of(scene.state.Alarms(), AlarmKind::kTooDry).cause);
    scene.Say(kFloat, kNone).Run(hours{2});
    CHECK(scene.Told().empty());
    CHECK(Of(scene.state.Alarms(), AlarmKind::kTooDry).cause == AlarmKind::kHumidifierDry);
  }
}

TEST_CASE("damp air and a blocked drain are one alarm, which says so") {
  Scene scene = Fridge();
  scene.Say(kDrain, kWater).Humidity(95).Run(hours{8});
  const Lines told = scene.Told();
  REQUIRE(told.size() == 3);
  CHECK(told[0].find("drain blocked raised watch") != std::string::npos);
  CHECK(told[1].find("too damp raised watch") != std::string::npos);
  CHECK(told[2].find("drain blocked quieted") != std::string::npos);
  CHECK(Of(scene.state.Alarms(), AlarmKind::kTooDamp).cause == AlarmKind::kDrainBlocked);
}

TEST_CASE("a contact that is taken down, or was never heard, says nothing") {
  Scene scene = Fridge();
  scene.Say(kFloat, kNone).Run(hours{1});
  scene.Told();
  scene.HangChannel(kFloat, Scene::kProbe, ChannelKind::kHumidifierWater, std::nullopt);
  CHECK(scene.Told() == Lines{"3:00 humidifier dry over"});
  scene.HangChannel(kFloat, Scene::kProbe, ChannelKind::kHumidifierWater, Scene::kFridge).Run(days{1});
  CHECK(scene.Told().empty());
}

TEST_CASE("what was counted is remembered in the written state") {
  Scene scene = Fridge();
  scene.Say(kFloat, kNone).Run(minutes{20});
  scene.state = EngineState::FromText(scene.state.ToText()).value();
  scene.Run(minutes{10});
  CHECK(scene.Told() == Lines{"2:30 humidifier dry raised watch"});
}

}  // namespace rindwatch::rules
