// Gas, dew, finished cheese and the cold of days. Invented caves, wheels and probes.
#include <algorithm>
#include <cmath>

#include "tests/catch.hpp"
#include "tests/rules/alarms/plant.hpp"

namespace rindwatch::rules {
TEST_CASE("gas is for people first: watch, act and urgent by its own limits, quieted by nobody") {
  Scene scene = Fridge();
  scene.HangChannel(16, Scene::kProbe, ChannelKind::kCarbonDioxide, Scene::kFridge).Run(hours{1});
  scene.Take(KeeperHere{Scene::kFridge});
  const auto say_for = [&](double ppm, int count) {
    for (int i = 0; i < count; ++i) scene.Say(16, ppm).Run(minutes{1});
  };
  say_for(2'400, 30);
  CHECK(scene.Told().empty());
  say_for(2'600, 12);
  say_for(5'100, 2);
  say_for(15'000, 2);
  const Lines told = scene.Told();
  REQUIRE(told.size() == 3);
  CHECK(told[0].find("carbon dioxide raised watch") != std::string::npos);
  CHECK(told[1].find("raised severity act") != std::string::npos);
  CHECK(told[2].find("raised severity urgent") != std::string::npos);
}

TEST_CASE("dew forms on a rind that is colder than the air's dew point") {
  Scene scene = Fridge(8000);
  scene.Run(days{2});
  scene.Told();
  const Millis moved = scene.Since();
  // A large wheel at 12.5 while the air warms to 14.3 at 98 %.
  scene.Temperature([moved](Millis since) {
    return 12.5 + std::min(1.8, Minutes(since - moved) / 20) + 0.1 * std::sin(Minutes(since));
  });
  scene.Humidity(Lively(98)).Run(hours{4});
  bool dew = false;
  for (const std::string& line : scene.Told()) dew |= line.find("condensation raised watch") != std::string::npos;
  CHECK(dew);
}

TEST_CASE("finished cheese has its own rule: over four degrees for two hours") {
  Scene scene;
  CaveGiven given{Scene::kFridge, {}, DayTurn{}, {}, {}};
  given.ready_cheese = true;
  scene.Take(given).Lay(1, Scene::kFridge, Pressed(), 250).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(Lively(3)).Humidity(Lively(85)).Run(hours{6});
  CHECK(scene.Told().empty());
  scene.Temperature(Lively(6)).Run(hours{3});
  const Lines told = scene.Told();
  for (const std::string& line : told) UNSCOPED_INFO(line);
  REQUIRE(told.size() == 2);
  CHECK(told[0].find("too warm raised watch") != std::string::npos);
  CHECK(told[1].find("too warm raised severity act") != std::string::npos);
}

TEST_CASE("how cold its wheels were on each day is kept with an alarm") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(Lively(1.2)).Humidity(Lively(85)).Run(days{2});
  REQUIRE(!scene.state.Alarms().empty());
  const Alarm alarm = scene.state.Alarms().front();
  CHECK(alarm.kind == AlarmKind::kTooCold);
  const Date first = DayTurn{}.DayOf(scene.At(hours{1}));
  // By the wheel itself, which evaporation holds a little under its air.
  REQUIRE(alarm.cold_days.size() >= 2);
  CHECK(alarm.cold_days[0].day == first);
  CHECK(alarm.cold_days[1].day == first + days{1});
  for (const ColdDay& cold : alarm.cold_days) {
    CHECK(cold.low < 1.3);
    CHECK(cold.low > 0);
    CHECK(cold.wheels == std::vector<WheelId>{1});
  }
}

TEST_CASE("a box without a probe has its wheels' temperature from the fridge around it, later than on its shelf") {
  Scene scene;
  scene.Give(Scene::kFridge).Give(Scene::kBox, Scene::kFridge).Hang(Scene::kProbe, Scene::kFridge);
  scene.Lay(1, Scene::kFridge, Pressed(), 1500).Lay(2, Scene::kBox, Pressed(), 1500);
  scene.Temperature(Lively(12.4)).Humidity(Lively(85)).Run(days{3});
  scene.Temperature(Lively(15)).Run(hours{3});
  const auto shelf = scene.View(Scene::kFridge).wheels, box = scene.View(Scene::kBox).wheels;
  REQUIRE(box.size() == 1);
  CHECK(box[0].wheels == std::vector<WheelId>{2});
  CHECK_FALSE(box[0].settling);
  REQUIRE(!shelf.empty());
  CHECK(box[0].core < 14.5);
  CHECK(box[0].core > 12.4);
}

}  // namespace rindwatch::rules
