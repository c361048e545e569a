// A wheel's own band in place of that of its stages.
#include "tests/catch.hpp"
#include "tests/rules/alarms/scene.hpp"

namespace rindwatch::rules {
namespace {

using Wheels = std::vector<WheelId>;

// A pressed wheel, ten days old, with a band of its own.
WheelGiven Own(const Scene& scene, WheelId wheel, std::optional<Figure> temperature, std::optional<Figure> humidity) {
  using std::chrono::days;
  WheelGiven given{wheel, Scene::kFridge, {}, Grams{}, temperature, humidity};
  given.history.plans.push_back({Pressed(), scene.Now() - days{10}, "p"});
  given.history.starts.push_back(
      {"s", StartKind::kMade, DayTurn{}.DayOf(scene.Now()) - days{10}, scene.Now() - days{10}, false});
  given.history.entered = scene.Now() - days{10};
  return given;
}

}  // namespace

TEST_CASE("a wheel's own band wins over its stage's, each channel by itself, until it is taken back") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed());
  const CaveView before = scene.View();
  scene.Take(Own(scene, 1, Figure{8, 10, "typed in"}, {}));
  CHECK(scene.View().temperature.band == Figure{8, 10, "typed in"});
  CHECK(scene.View().humidity.band == before.humidity.band);
  // What the plan wants lies outside of it, so nothing of it is shown.
  CHECK_FALSE(scene.View().temperature.target);
  scene.Lay(1, Scene::kFridge, Pressed());
  CHECK(scene.View().temperature.band == before.temperature.band);
  CHECK(scene.View().temperature.target == before.temperature.target);
}

TEST_CASE("a cave whose band is another's does not suit a wheel with its own") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(2, Scene::kFridge, Bloomy());
  scene.Take(Own(scene, 1, Figure{2, 4, "typed in"}, {}));
  CHECK(scene.View().does_not_suit == Wheels{1});
}

// A cellar of many families: a door after days in band rang every morning, "since" the day the wheel had warmed.
TEST_CASE("a wheel that the cave does not suit, warm for days, makes no alarm of a door") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(2, Scene::kFridge, Bloomy());
  WheelGiven cool = Own(scene, 1, Figure{4, 6, "typed in"}, {});
  cool.weight = Grams{2000};
  scene.Take(cool).Hang(Scene::kProbe, Scene::kFridge);
  REQUIRE(scene.View().does_not_suit == Wheels{1});
  scene.Temperature(5).Run(std::chrono::hours{24});
  scene.Temperature(12.5).Run(std::chrono::hours{72});
  scene.Temperature(15).Run(std::chrono::minutes{20});
  for (const std::string& told : scene.Told()) {
    INFO(told);
    CHECK(told.find("too warm raised act") == std::string::npos);
  }
}

TEST_CASE("an own band is remembered in the written state") {
  Scene scene;
  scene.Give(Scene::kFridge).Take(Own(scene, 1, Figure{8, 10, "typed in"}, Figure{70, 80, "typed in"}));
  const auto read = EngineState::FromText(scene.state.ToText());
  REQUIRE(read);
  CHECK(read->ToText() == scene.state.ToText());
  CHECK(read->View(Scene::kFridge, scene.Now()).temperature.band == Figure{8, 10, "typed in"});
  CHECK(read->View(Scene::kFridge, scene.Now()).humidity.band == Figure{70, 80, "typed in"});
}

TEST_CASE("an own band that is turned round is none") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed());
  const CaveView before = scene.View();
  scene.Take(Own(scene, 1, Figure{10, 8, "typed in"}, {}));
  CHECK(scene.View().temperature.band == before.temperature.band);
}

}  // namespace rindwatch::rules
