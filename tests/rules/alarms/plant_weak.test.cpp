// What creeps: a plant that cools more slowly, air that grows dry. Invented caves, wheels and probes.
#include <algorithm>

#include "tests/catch.hpp"
#include "tests/rules/alarms/plant.hpp"

namespace rindwatch::rules {
TEST_CASE("a plant that cools more slowly than in the week before is told while the band holds") {
  Scene scene = Fridge();
  scene.Run(days{9});
  CHECK(scene.Told().empty());
  scene.Temperature([](Millis since) { return Saw(since, 16); }).Run(days{2});
  const Lines told = scene.Told();
  REQUIRE(told.size() == 1);
  CHECK(told[0].find("plant weak raised watch") != std::string::npos);
  CHECK(scene.state.Alarms().front().why == Why::kSlowFall);
}

TEST_CASE("a plant that is weak with pauses goes on being told by how weak it was at its weakest") {
  Scene scene = Fridge();
  scene.Run(days{9}).Temperature([](Millis since) { return Saw(since, 16); }).Run(days{2});
  const double weakest = scene.state.Alarms().front().extreme;
  CHECK(weakest < 0.6);
  scene.Temperature(UsualSaw).Run(hours{15});
  scene.Temperature([](Millis since) { return Saw(since, 14); }).Run(hours{20});
  REQUIRE(!scene.state.Alarms().empty());
  CHECK(scene.state.Alarms().front().extreme == Approx(weakest).margin(0.01));
}

TEST_CASE("where water has gone missing its cooling is missing too, and the plant is not blamed for it") {
  Scene scene = Fridge();
  scene.Run(days{9});
  // A wick that ran dry for a day and a half, and falls that are slower for as long.
  scene.Temperature([](Millis since) { return Saw(since, 11); }).Humidity(Lively(60)).Run(hours{36});
  scene.Temperature(UsualSaw).Humidity(Lively(85)).Run(days{2});
  for (const std::string& line : scene.Told()) {
    INFO(line);
    CHECK(line.find("plant weak") == std::string::npos);
  }
}

TEST_CASE("air that stays so dry for longer than water is missed may be iced by its plant: slow falls are told then") {
  Scene scene = Fridge();
  scene.Run(days{9}).Told();
  const Instant dry = scene.Now();
  scene.Temperature([](Millis since) { return Saw(since, 11); }).Humidity(Lively(72)).Run(hours{100});
  const auto told = std::ranges::find_if(scene.decisions,
                                         [](const Decision& decision) { return decision.alarm.why == Why::kSlowFall; });
  REQUIRE(told != scene.decisions.end());
  CHECK(told->at - dry > hours{72});
  CHECK(told->at - dry < hours{86});
}

TEST_CASE("falls that were slower before the air grew dry are ice, and told while it is dry") {
  Scene scene = Fridge();
  scene.Run(days{9});
  scene.Temperature([](Millis since) { return Saw(since, 10); }).Run(hours{30});
  CHECK(scene.Told().empty());
  scene.Temperature([](Millis since) { return Saw(since, 12); }).Humidity(Lively(72)).Run(hours{40});
  CHECK(std::ranges::any_of(scene.decisions,
                            [](const Decision& decision) { return decision.alarm.why == Why::kSlowFall; }));
}

TEST_CASE(
    "a plant that cools as before is weak no more, once a day's mean of its falls has come half of the way back") {
  Scene scene = Fridge();
  scene.Run(days{9}).Temperature([](Millis since) { return Saw(since, 16); }).Run(days{2});
  const std::string id = scene.state.Alarms().front().id;
  CHECK(scene.Told().size() == 1);
  const Instant mended = scene.Now();
  scene.Temperature([](Millis since) { return Saw(since); }).Run(days{2});
  REQUIRE(scene.decisions.size() == 1);
  const Decision& over = scene.decisions.front();
  CHECK(over.change == Decision::Change::kOver);
  CHECK(over.alarm.id == id);
  CHECK(over.at - mended > hours{6});
  CHECK(over.at - mended < hours{25});
}

TEST_CASE("a humidity that sinks under its own normal is told although the band holds") {
  Scene scene = Fridge();
  scene.Run(days{6}).Humidity(Lively(80.5)).Run(hours{14});
  const Lines told = scene.Told();
  REQUIRE(told.size() == 1);
  CHECK(told[0].find("too dry raised watch") != std::string::npos);
  CHECK(scene.state.Alarms().front().why == Why::kBelowNormal);
  scene.Humidity(Lively(85)).Run(hours{20});
  CHECK(scene.Told().size() == 1);
}

}  // namespace rindwatch::rules
