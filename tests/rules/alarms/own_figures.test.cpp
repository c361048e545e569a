// Figures that decide when something rings or ends are limits of a cave: each changed, it rings or ends otherwise.
// Invented caves, wheels and probes.
#include <algorithm>
#include <cmath>

#include "tests/catch.hpp"
#include "tests/rules/alarms/plant.hpp"

namespace rindwatch::rules {
namespace {

Scene FridgeWith(OwnSettings own, std::shared_ptr<const Plan> plan = Pressed(), double grams = 2000, int age = 10) {
  Scene scene;
  scene.own.insert(scene.own.end(), own.begin(), own.end());
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, std::move(plan), grams, age).Hang(Scene::kProbe, Scene::kFridge);
  return scene.Temperature(12.5).Humidity(85);
}

Lines GasOf(OwnSettings own) {
  Scene scene = FridgeWith(std::move(own));
  scene.HangChannel(16, Scene::kProbe, ChannelKind::kCarbonDioxide, Scene::kFridge).Run(hours{1});
  const auto say_for = [&](double ppm, int count) {
    for (int i = 0; i < count; ++i) scene.Say(16, ppm).Run(minutes{1});
  };
  say_for(2'600, 15);
  say_for(5'100, 10);
  say_for(2'200, 40);
  say_for(1'900, 40);
  return scene.Told();
}

}  // namespace

TEST_CASE("how soon gas is told and when it is over are limits of the cave") {
  CHECK(GasOf({}) == Lines{"1:10 carbon dioxide raised watch", "1:16 carbon dioxide raised severity act",
                           "1:40 carbon dioxide over"});
  CHECK(
      GasOf({{"gas: watch after", 3}, {"gas: act after", 15}, {"gas: over after", 30}}) ==
      Lines{"1:03 carbon dioxide raised watch", "1:16 carbon dioxide raised severity act", "1:55 carbon dioxide over"});
  CHECK(GasOf({{"gas: over below, of the first", 0.8}}).back() == "2:20 carbon dioxide over");
}

TEST_CASE("how far inside is well inside is a limit of the cave") {
  const auto over = [](OwnSettings own) {
    Scene scene = FridgeWith(std::move(own));
    // Out, and then in by three tenths.
    scene.Run(hours{2}).Temperature(15.2).Run(hours{2}).Temperature(14.2).Run(hours{6});
    return std::ranges::any_of(scene.Told(), [](const std::string& line) { return line.ends_with("too warm over"); });
  };
  CHECK_FALSE(over({}));
  CHECK(over({{"over: inside by", 0.2}}));
  CHECK(over({{"over: inside by, of a narrow band", 0.05}}));
}

TEST_CASE("by how much a battery is charged again is a limit of the cave") {
  const auto told = [](OwnSettings own) {
    Scene scene = FridgeWith(std::move(own));
    scene.HangChannel(18, Scene::kProbe, ChannelKind::kBattery, Scene::kFridge).Run(hours{1});
    return scene.Say(18, 19).Say(18, 23).Told();
  };
  CHECK(told({}) == Lines{"1:00 battery low raised hint"});
  CHECK(told({{"battery: over above the first by", 2}}) ==
        Lines{"1:00 battery low raised hint", "1:00 battery low over"});
}

TEST_CASE("where finished cheese freezes is a limit of the cave") {
  const auto rings = [](OwnSettings own) {
    Scene scene;
    CaveGiven given{Scene::kFridge, {}, DayTurn{}, {}, {}, std::move(own)};
    given.ready_cheese = true;
    scene.Take(given).Lay(1, Scene::kFridge, Pressed(), 250).Hang(Scene::kProbe, Scene::kFridge);
    scene.Temperature(Lively(2)).Humidity(Lively(85)).Run(hours{2}).Temperature(Lively(-1.6)).Run(hours{5});
    return std::ranges::any_of(scene.decisions, [](const Decision& one) {
      return one.alarm.kind == AlarmKind::kTooCold && one.alarm.severity == Severity::kAct;
    });
  };
  CHECK(rings({}));
  CHECK_FALSE(rings({{"ready cheese: freezes at", -3}}));
}

TEST_CASE("how long a rind is young is a limit of the cave") {
  const auto told = [](OwnSettings own, int age) {
    Scene scene = FridgeWith(std::move(own), Pressed(), 2000, age);
    return scene.Run(hours{2}).Humidity(70).Run(hours{3}).Told();
  };
  const auto acts = [](const Lines& lines) {
    return std::ranges::any_of(lines, [](const std::string& line) { return line.find(" act") != std::string::npos; });
  };
  CHECK(acts(told({}, 10)));
  CHECK_FALSE(acts(told({}, 20)));
  CHECK_FALSE(acts(told({{"too dry: a rind is young for", 0}}, 10)));
  CHECK(acts(told({{"too dry: a rind is young for", 30}}, 20)));
}

TEST_CASE("up to what weight a wheel is small is a limit of the cave") {
  const auto told = [](OwnSettings own) {
    Scene scene = FridgeWith(std::move(own), Pressed(), 500);
    return scene.Run(hours{2}).Silent().Wait(hours{2}).Told();
  };
  CHECK(told({}) == Lines{"2:45 probe silent raised watch"});
  CHECK(told({{"silent: small up to", 600}}) ==
        Lines{"2:45 probe silent raised watch", "3:30 probe silent raised severity act"});
}

TEST_CASE("how close the last words lie when power goes is a limit of the cave") {
  const auto told = [](OwnSettings own) {
    Scene scene = FridgeWith(std::move(own));
    scene.Hang(2, Scene::kFridge).Temperature(12.7, 2).Humidity(84, 2).Run(hours{2});
    scene.Silent(1).Run(minutes{4}).Silent(2).Run(minutes{15});
    return scene.Told();
  };
  CHECK(told({}) == Lines{"2:07 power gone raised act"});
  CHECK(told({{"power: last words within", 2}}).empty());
}

TEST_CASE("by how much the air moved while nobody watched is a limit of the cave") {
  const auto after = [](OwnSettings own) {
    Scene scene = FridgeWith(std::move(own));
    scene.Run(days{1}).Take(Stopped{});
    scene.Silent().Wait(hours{5}).Take(Started{});
    scene.Temperature(13.8).Humidity(85).Run(minutes{3});
    return scene.decisions.back().alarm.why;
  };
  CHECK(after({}) == Why::kWarmedMeanwhile);
  CHECK(after({{"unwatched: moved by more than", 2}}) == Why::kOnlyTheWatch);
}

TEST_CASE("how long water is back before its alarm is over is a limit of the cave") {
  const auto told = [](OwnSettings own) {
    Scene scene = FridgeWith(std::move(own));
    scene.HangChannel(17, Scene::kProbe, ChannelKind::kHumidifierWater, Scene::kFridge);
    scene.HangChannel(18, Scene::kProbe, ChannelKind::kDrainWater, Scene::kFridge);
    scene.Say(17, 0).Say(18, 1).Run(hours{1}).Say(17, 1).Say(18, 0);
    scene.Told();
    return scene.Run(hours{1}).Told();
  };
  CHECK(told({}) == Lines{"1:05 humidifier dry over", "1:05 drain blocked over"});
  CHECK(told({{"humidifier: over after", 20}, {"drain: over after", 10}}) ==
        Lines{"1:10 drain blocked over", "1:20 humidifier dry over"});
}

TEST_CASE("for how many days a probe is learned before it is stuck by what it used to do is a limit of the cave") {
  const auto told = [](OwnSettings own) {
    Scene scene;
    scene.own = std::move(own);
    scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
    scene.Temperature(UsualSaw).Humidity(Lively(85)).Run(days{2}).Temperature(12.4).Run(hours{2});
    return std::ranges::any_of(scene.Told(),
                               [](const std::string& line) { return line.find("probe stuck") != std::string::npos; });
  };
  CHECK_FALSE(told({}));
  CHECK(told({{"stuck: first days", 1}}));
}

TEST_CASE("when probes that lay apart are one again, and when their place is not known, are limits of the cave") {
  const auto scene = [](OwnSettings own) {
    Scene both = FridgeWith(std::move(own));
    both.Hang(2, Scene::kFridge).Temperature(12.5, 2).Humidity(85, 2).Run(hours{3});
    return both;
  };
  SECTION("one again") {
    const auto over = [&](OwnSettings own) {
      Scene both = scene(std::move(own));
      both.Temperature(14.2, 2).Run(hours{8}).Temperature(13.8, 2).Run(hours{4});
      return std::ranges::any_of(both.Told(),
                                 [](const std::string& line) { return line.ends_with("probes disagree over"); });
    };
    CHECK_FALSE(over({}));
    CHECK(over({{"disagree: over below, of that", 0.94}}));
  }
  SECTION("not known") {
    const auto unknown = [&](OwnSettings own) {
      Scene both = scene(std::move(own));
      both.Temperature(16, 2).Run(hours{2});
      return both.View().temperature.state == CaveState::kUnknown;
    };
    CHECK(unknown({}));
    CHECK_FALSE(unknown({{"disagree: not known after", 240}}));
  }
}

TEST_CASE("by how much a wet probe is dry again is a limit of the cave") {
  const auto over = [](OwnSettings own) {
    Scene scene = FridgeWith(std::move(own));
    scene.Run(hours{3}).Humidity([](Millis since) { return 99.2 + 0.1 * std::sin(Minutes(since)); }).Run(hours{3});
    scene.Humidity([](Millis since) { return 97.4 + 0.1 * std::sin(Minutes(since)); }).Run(hours{2});
    return std::ranges::any_of(scene.Told(), [](const std::string& line) { return line.ends_with("probe wet over"); });
  };
  CHECK_FALSE(over({}));
  CHECK(over({{"wet: over below that by", 1}}));
}

TEST_CASE("for how long it was calm before a silence that waits for the morning is a limit of the cave") {
  const auto waits = [](OwnSettings own) {
    Scene scene = FridgeWith(std::move(own));
    scene.HangChannel(18, 2, ChannelKind::kDrainWater, Scene::kFridge);
    scene.Give(Scene::kBox, Scene::kFridge).Hang(2, Scene::kBox).Temperature(12.7, 2).Humidity(84, 2);
    // Water that stood in the evening, until 19:05; silent from 23:00.
    scene.Run(hours{12}).Say(18, 1).Run(hours{1}).Say(18, 0).Run(hours{4}).Silent(1).Run(hours{6});
    return std::ranges::none_of(scene.decisions, [](const Decision& one) {
      return one.alarm.kind == AlarmKind::kProbeSilent && one.alarm.severity == Severity::kAct;
    });
  };
  CHECK_FALSE(waits({}));
  CHECK(waits({{"night: calm for", 180}}));
}

TEST_CASE("by how much a rind has to be warmer for its film to be gone is a limit of the cave") {
  const auto ends = [](OwnSettings own) {
    Scene scene = FridgeWith(std::move(own), Pressed(), 8000);
    scene.Humidity(Lively(85)).Run(days{2});
    const Millis moved = scene.Since();
    scene.Temperature([moved](Millis since) { return 12.5 + std::min(1.8, Minutes(since - moved) / 20); });
    scene.Humidity(Lively(98)).Run(hours{5}).Humidity(Lively(93)).Run(hours{30});
    std::optional<Instant> over;
    for (const Decision& one : scene.decisions) {
      if (one.alarm.kind == AlarmKind::kCondensation && one.alarm.over) over = one.alarm.over;
    }
    return over;
  };
  const auto usual = ends({}), later = ends({{"condensation: over above that by", 0.9}});
  REQUIRE(usual);
  CHECK((!later || *later > *usual));
}

}  // namespace rindwatch::rules
