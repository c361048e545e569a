// What turns back by itself and has a name. Invented caves, wheels and probes.
#include <algorithm>
#include <cmath>

#include "tests/catch.hpp"
#include "tests/rules/alarms/plant.hpp"

namespace rindwatch::rules {

TEST_CASE("a defrost and a door turn back by themselves and are named, not rung") {
  Scene scene = Fridge();
  scene.Temperature([](Millis since) {
    const double of_half_day = std::fmod(Minutes(since), 720);
    return Saw(since) + (of_half_day < 25   ? 3.0 * of_half_day / 25
                         : of_half_day < 50 ? 3.0 * (50 - of_half_day) / 25
                                            : 0.0);
  });
  scene.Run(days{6});
  CHECK(scene.Told().empty());
  const auto shapes = scene.View().shapes;
  REQUIRE(!shapes.empty());
  CHECK(shapes.back().kind == ShapeKind::kDefrost);
}

// Too slow for a door's rush: 1.5 K in 25 minutes and as long back, from each of the starts on.
static Scene::Course GentleAt(std::vector<Millis> starts) {
  return [starts](Millis since) {
    double beyond = 0;
    for (const Millis start : starts) beyond += 1.5 * std::max(0.0, 1 - std::abs(Minutes(since - start) - 25) / 25);
    return Saw(since) + beyond;
  };
}

TEST_CASE("a defrost too gentle for a name is named from its third on, at whatever interval it comes") {
  for (const Millis interval : {hours{5}, hours{10}, hours{12}}) {
    Scene scene = Fridge();
    std::vector<Millis> starts;
    for (int n = 0; n < 6; ++n) starts.push_back(days{2} + n * interval);
    scene.Temperature(GentleAt(starts));
    scene.Run(starts[1] + hours{3});
    CHECK(scene.View().shapes.empty());
    scene.Run(starts[5] + hours{3} - scene.Since());
    INFO(interval / minutes{1});
    CHECK(scene.Told().empty());
    const auto shapes = scene.View().shapes;
    REQUIRE(shapes.size() == 4);
    for (std::size_t n = 0; n < shapes.size(); ++n) {
      CHECK(shapes[n].kind == ShapeKind::kDefrost);
      CHECK(shapes[n].from > scene.At(starts[n + 2]));
      CHECK(shapes[n].until < scene.At(starts[n + 2] + minutes{70}));
    }
  }
}

TEST_CASE(
    "what comes once a day is a defrost where the air becomes damper, and may be a keeper's hour where it does not") {
  for (const bool damper : {true, false}) {
    Scene scene = Fridge();
    std::vector<Millis> starts;
    for (int n = 0; n < 4; ++n) starts.push_back(days{2} + n * days{1});
    scene.Temperature(GentleAt(starts));
    scene.Humidity([starts, damper](Millis since) {
      double more = 0;
      for (const Millis start : starts) more += std::max(0.0, 12 - std::abs(Minutes(since - start) - 20) / 2);
      return Lively(85)(since) + (damper ? more : 0);
    });
    scene.Run(starts[3] + hours{3});
    const auto shapes = scene.View().shapes;
    CHECK(shapes.size() == (damper ? 3 : 0));
    for (const Shape& shape : shapes) CHECK(shape.kind == ShapeKind::kDefrost);
  }
}

TEST_CASE("gentle excursions that keep no interval have no name, nor have those that come all the time") {
  std::vector<Millis> now_and_then{days{2}}, any_part_of_the_day;
  for (const int gap : {5, 7, 11, 6, 13, 9, 5, 12, 8}) now_and_then.push_back(now_and_then.back() + hours{gap});
  for (int n = 0; n < 48; ++n) any_part_of_the_day.push_back(days{2} + n * hours{2});
  for (const auto& starts : {now_and_then, any_part_of_the_day}) {
    Scene scene = Fridge();
    scene.Temperature(GentleAt(starts)).Run(starts.back() + hours{3});
    CHECK(scene.Told().empty());
    CHECK(scene.View().shapes.empty());
  }
}

}  // namespace rindwatch::rules
