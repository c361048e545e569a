#include <cmath>

#include "rules/alarms/ahead.hpp"
#include "tests/catch.hpp"
#include "tests/rules/alarms/scene.hpp"

namespace rindwatch::rules {
namespace {

using Wheels = std::vector<WheelId>;

std::shared_ptr<const Plan> Hard() { return PlanOf("hard", 3, Figure{6, 12, "h"}, Figure{70, 85, "h"}); }
std::shared_ptr<const Plan> Blue() { return PlanOf("blue", 1, Figure{3, 8, "b"}, Figure{88, 97, "b"}); }

}  // namespace

TEST_CASE("a cave's band is the overlap of its wheels' bands, each channel by itself") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed()).Lay(2, Scene::kFridge, Bloomy());
  const CaveView view = scene.View();
  CHECK(view.temperature.band == Figure{10.5, 13.5, ""});
  CHECK(view.humidity.band == Figure{88, 90, ""});
  CHECK(view.does_not_suit == Wheels{});
}

TEST_CASE("where no overlap is left the most delicate wheel rules, and those it does not suit are named") {
  Scene scene;
  scene.Give(Scene::kFridge);
  SECTION("blue before hard, in temperature alone") {
    scene.Lay(1, Scene::kFridge, PlanOf("warm", 3, Figure{9, 14, ""}, Figure{80, 95, ""}))
        .Lay(2, Scene::kFridge, Blue());
    CHECK(scene.View().temperature.band == Figure{3, 8, "b"});
    CHECK(scene.View().humidity.band == Figure{88, 95, "b"});
    CHECK(scene.View().does_not_suit == Wheels{1});
  }
  SECTION("one that overlaps with the ruling one is suited, though all three have nothing in common") {
    scene.Lay(3, Scene::kFridge, Bloomy()).Lay(2, Scene::kFridge, Blue()).Lay(1, Scene::kFridge, Hard());
    CHECK(scene.View().temperature.band == Figure{9.5, 13.5, ""});  // soft before blue
    CHECK(scene.View().humidity.band == Figure{88, 98, ""});
    CHECK(scene.View().does_not_suit == Wheels{1, 2});  // the hard one for its humidity
  }
  SECTION("of two of a kind the younger") {
    scene.Lay(1, Scene::kFridge, PlanOf("a", 2, Figure{2, 5, "old"}, {}), 0, 40);
    scene.Lay(2, Scene::kFridge, PlanOf("b", 2, Figure{10, 14, "young"}, {}), 0, 9);
    CHECK(scene.View().temperature.band == Figure{10, 14, "young"});
    CHECK(scene.View().does_not_suit == Wheels{1});
  }
  SECTION("bands that only touch leave nothing to keep") {
    scene.Lay(1, Scene::kFridge, PlanOf("a", 2, Figure{8, 10, "a"}, {})).Lay(2, Scene::kFridge, Pressed());
    scene.Lay(2, Scene::kFridge, PlanOf("b", 1, Figure{10, 14, "b"}, {}));
    CHECK(scene.View().temperature.band == Figure{10, 14, "b"});
    CHECK(scene.View().does_not_suit == Wheels{1});
  }
  SECTION("the order in which they came does not matter") {
    scene.Lay(2, Scene::kFridge, Blue()).Lay(1, Scene::kFridge, Hard()).Lay(3, Scene::kFridge, Bloomy());
    CHECK(scene.View().temperature.band == Figure{9.5, 13.5, ""});
  }
  SECTION("the keeper's limit, too, may suit a wheel or not") {
    scene.Lay(1, Scene::kFridge, Pressed()).Give(Scene::kFridge, {}, Figure{2, 5, "typed"});
    CHECK(scene.View().temperature.band == Figure{2, 5, "typed"});
    CHECK(scene.View().does_not_suit == Wheels{1});
  }
  SECTION("a limit turned round is none") {
    scene.Lay(1, Scene::kFridge, Pressed()).Give(Scene::kFridge, {}, Figure{5, 2, "typed"});
    CHECK(scene.View().temperature.band == Figure{10.5, 14.5, ""});
  }
}

TEST_CASE("wheels in a box count for temperature in the cave around it, and never for humidity") {
  Scene scene;
  scene.Give(Scene::kFridge).Give(Scene::kBox, Scene::kFridge).Hang(Scene::kProbe, Scene::kFridge);
  scene.Lay(1, Scene::kBox, Bloomy(), 250).Temperature(11.5).Humidity(40);
  scene.Run(hours{3});
  CHECK(scene.View().temperature.band == Figure{9.5, 13.5, ""});
  CHECK_FALSE(scene.View().humidity.band);  // all lie in boxes
  CHECK(scene.Told() == Lines{});
  SECTION("the box borrows the temperature, not the humidity") {
    const CaveView box = scene.View(Scene::kBox);
    CHECK(box.temperature.watched);
    CHECK(box.temperature.borrowed);
    CHECK(box.temperature.mean == 11.5);
    CHECK(box.temperature.state == CaveState::kInBand);
    CHECK_FALSE(box.humidity.watched);
    CHECK(box.humidity.state == CaveState::kNotWatched);
    CHECK(box.humidity.band == Figure{88, 98, ""});
    CHECK(box.state == CaveState::kInBand);
  }
  SECTION("too warm in the fridge is one alarm, of the fridge, that names the boxed wheel") {
    scene.Temperature(16).Run(hours{3});
    REQUIRE(scene.Told().size() == 2);  // watch, and act, for it is soft
    const Alarm alarm = scene.state.Alarms().front();
    CHECK(alarm.cave == Scene::kFridge);
    CHECK(alarm.wheels == Wheels{1});
    CHECK(scene.View(Scene::kBox).state == CaveState::kOutOfBand);
  }
  SECTION("its silent probe leaves the box unknown, and counts as small wheels'") {
    scene.Silent().Wait(minutes{90});
    CHECK(scene.Told() == Lines{"3:45 probe silent raised watch", "4:30 probe silent raised severity act"});
    CHECK(scene.View(Scene::kBox).state == CaveState::kUnknown);
    CHECK(scene.state.Alarms().front().wheels == Wheels{1});
  }
  SECTION("a wheel laid beside the box is judged for humidity, alone") {
    scene.Lay(2, Scene::kFridge, Pressed());
    CHECK(scene.View().humidity.band == Figure{80, 90, ""});
    CHECK(scene.View().temperature.band == Figure{10.5, 13.5, ""});
  }
  SECTION("a box with a probe of its own borrows nothing") {
    scene.Hang(2, Scene::kBox).Temperature(12, 2).Humidity(95, 2).Run(hours{2});
    const CaveView box = scene.View(Scene::kBox);
    CHECK_FALSE(box.temperature.borrowed);
    CHECK(box.temperature.mean == 12.0);
    CHECK(box.humidity.state == CaveState::kInBand);
  }
  SECTION("what rings in the fridge is not rung again in its box; what is worse in the box is") {
    scene.Hang(2, Scene::kBox).Temperature(11.5, 2).Humidity(95, 2).Run(hours{2});
    scene.Temperature(14.3).Temperature(14.3, 2).Run(hours{3});
    CHECK(scene.Told() == Lines{"6:22 too warm raised watch"});
    CHECK(scene.state.Alarms().front().cave == Scene::kFridge);
    scene.Temperature(17, 2).Run(hours{2});
    CHECK(scene.Told() == Lines{"8:15 too warm raised act"});
    CHECK(scene.state.Alarms().front().cave == Scene::kBox);
  }
  SECTION("taken out of the fridge, the box is on its own") {
    scene.Give(Scene::kBox);
    CHECK_FALSE(scene.View().temperature.band);
    CHECK(scene.View(Scene::kBox).state == CaveState::kNotWatched);
  }
}

TEST_CASE("caves that stand inside one another in a circle do no harm") {
  Scene scene;
  scene.Give(Scene::kFridge, Scene::kBox).Give(Scene::kBox, Scene::kFridge).Give(Scene::kRoom, Scene::kRoom);
  scene.Lay(1, Scene::kBox, Bloomy()).Hang(Scene::kProbe, Scene::kFridge).Temperature(11).Humidity(90).Run(hours{1});
  CHECK(scene.View().temperature.band == Figure{9.5, 13.5, ""});
  CHECK(scene.View(Scene::kBox).temperature.borrowed);
  CHECK(scene.View(Scene::kRoom).state == CaveState::kNotWatched);
}

TEST_CASE("a stage's end moves the limits at the start of the keeper's day") {
  Stage warm;
  warm.first_day = 1;
  warm.last_day = 10;
  warm.temperature_band = Figure{10, 14, "warm"};
  Stage cold = warm;
  cold.first_day = 11;
  cold.last_day.reset();
  cold.temperature_band = Figure{2, 6, "cold"};
  Plan plan = *Pressed();
  plan.parts[0].stages = {warm, cold};

  Scene scene;
  // Day 10 at the scene's begin, 06:00; day 11 begins at 04:00, 22 hours later.
  scene.Give(Scene::kFridge)
      .Lay(1, Scene::kFridge, std::make_shared<const Plan>(plan))
      .Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(12).Humidity(85).Run(hours{22} - minutes{1});
  CHECK(scene.View().temperature.band == Figure{10, 14, "warm"});
  CHECK(scene.Told() == Lines{});
  scene.Run(minutes{1});
  CHECK(scene.View().temperature.band == Figure{2, 6, "cold"});
  CHECK(scene.View().state == CaveState::kOutOfBand);
  scene.Run(hours{1});
  CHECK(scene.Told() == Lines{"22:59 too warm raised watch"});
  CHECK(scene.state.Alarms().front().band == Figure{2, 6, "cold"});
}

TEST_CASE("the engine wakes for the start of a day though no probe hangs anywhere, each day of its cave's own zone") {
  Scene scene;
  const Zone zone{"Invented/Place", hours{9}, {}};
  scene.Take(CaveGiven{Scene::kFridge, {}, DayTurn{zone, 3}, {}, {}});
  CHECK_FALSE(NextDeadline(scene.state));
  scene.Lay(1, Scene::kFridge, Pressed());
  // 03:00 there is 18:00 UTC, twelve hours after the begin.
  CHECK(NextDeadline(scene.state) == scene.At(hours{12}));
  scene.Wait(hours{13});
  CHECK(NextDeadline(scene.state) == scene.At(hours{36}));
}

TEST_CASE("a wheel that is gone asks for nothing") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed());
  WheelHistory history;
  history.plans.push_back({Pressed(), scene.Now() - days{9}, "p"});
  history.gone = scene.Now();
  scene.Take(WheelGiven{1, Scene::kFridge, history, Grams{}});
  CHECK_FALSE(scene.View().temperature.band);
  CHECK_FALSE(NextDeadline(scene.state));
}

TEST_CASE("drifting: still inside, but on its way out") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed()).Hang(Scene::kProbe, Scene::kFridge);
  const auto hour = [](Millis t) { return static_cast<double>(t.count()) / 3600e3; };
  SECTION("a steady climb shows before the edge") {
    scene.Temperature([&](Millis t) { return 12.5 + 0.5 * std::max(0.0, hour(t) - 3); }).Humidity(85).Run(hours{3});
    CHECK(scene.View().state == CaveState::kInBand);
    scene.Run(hours{2} + minutes{30});
    // The mean is 13.6 and climbs half a degree an hour: outside within two.
    CHECK(scene.View().state == CaveState::kDrifting);
    CHECK(scene.View().temperature.side == 1);
    // Its mean reaches 14 after two hours more: that of half an hour lags a quarter behind.
    const auto leaves = LeavesAt(scene.state, Scene::kFridge, ChannelKind::kTemperature, scene.At(scene.Since()));
    REQUIRE(leaves);
    CHECK(*leaves > scene.At(scene.Since()) + minutes{30});
    CHECK(*leaves < scene.At(scene.Since()) + hours{2});
    scene.Run(hours{3});
    CHECK(scene.View().state == CaveState::kOutOfBand);
  }
  SECTION("drying out") {
    scene.Temperature(12.5).Humidity([&](Millis t) { return 86 - 1.5 * hour(t); }).Run(hours{3} + minutes{10});
    CHECK(scene.View().humidity.state == CaveState::kDrifting);
    CHECK(scene.View().humidity.side == -1);
  }
  SECTION("air that comes back from the other side is not on its way out") {
    scene.Humidity(85).Temperature(
        [&](Millis t) { return hour(t) < 3 ? 13.9 : 12.5 + 1.4 * std::exp(-(hour(t) - 3)); });
    int drifting = 0;
    for (int i = 0; i < 40; ++i) {
      scene.Run(minutes{10});
      drifting += scene.View().state == CaveState::kDrifting;
      CHECK_FALSE(LeavesAt(scene.state, Scene::kFridge, ChannelKind::kTemperature, scene.At(scene.Since())));
    }
    CHECK(drifting == 0);
  }
  SECTION("a lid that was lifted for a moment is no drying out") {
    const auto damp = [&](Millis t) { return hour(t) < 3 ? 88 : 88 - 25 * std::exp(-4 * (hour(t) - 3)); };
    scene.Temperature(12.5).Humidity(damp).Run(hours{3} + minutes{25});
    int drifting = 0;
    for (int i = 0; i < 20; ++i) {
      scene.Run(minutes{5});
      drifting += scene.View().humidity.state == CaveState::kDrifting;
    }
    CHECK(drifting == 0);
  }
  SECTION("a climb that has ended, a slow one far inside, and a swing are none") {
    int drifting = 0;
    scene.Humidity(85).Temperature([&](Millis t) { return 12.5 + 0.3 * std::sin(hour(t)) + 0.05 * hour(t); });
    for (int i = 0; i < 20; ++i) {
      scene.Run(hours{1});
      drifting += scene.View().state == CaveState::kDrifting;
    }
    CHECK(drifting == 0);
    CHECK(scene.Told() == Lines{});
  }
}

}  // namespace rindwatch::rules
