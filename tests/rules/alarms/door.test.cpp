// A door left ajar after a round, and one that a contact tells of. Invented caves, wheels and probes.
#include <algorithm>
#include <cmath>

#include "tests/catch.hpp"
#include "tests/rules/alarms/plant.hpp"

namespace rindwatch::rules {
TEST_CASE("what comes right after a tick is your round, and a door left ajar after it is told quietly") {
  Scene scene = Fridge();
  scene.Run(days{5});
  const Millis tick = scene.Since();
  scene.Take(KeeperTended{Scene::kFridge});
  scene.Temperature([tick](Millis since) {
    const double gone = Minutes(since - tick);
    return Saw(since) + (gone < 10 ? 0.3 * gone : gone < 25 ? 3.0 * (25 - gone) / 15 : 0.0);
  });
  scene.Run(hours{2});
  CHECK(scene.Told().empty());
  REQUIRE(!scene.View().shapes.empty());
  CHECK(scene.View().shapes.back().kind == ShapeKind::kYourRound);
  const Millis again = scene.Since();
  scene.Take(KeeperTended{Scene::kFridge});
  scene.Temperature([again](Millis since) {
    return 12.8 + 3.5 * (1 - std::exp(-Minutes(since - again) / 8)) + 0.1 * std::sin(Minutes(since));
  });
  scene.Run(minutes{30});
  REQUIRE(scene.decisions.size() == 1);
  CHECK(scene.decisions[0].alarm.kind == AlarmKind::kDoorOpen);
  CHECK(scene.decisions[0].alarm.why == Why::kAfterRound);
  CHECK(scene.decisions[0].alarm.severity == Severity::kWatch);
  CHECK(scene.decisions[0].at == scene.At(again + minutes{25}));
  // The same event is not told as too warm besides, unless it has come to an act.
  scene.Told();
  scene.Run(minutes{100});
  CHECK(scene.Told().empty());
  CHECK(scene.View().temperature.state == CaveState::kOutOfBand);
  // Shut, it is over by itself, and was a door.
  const Millis shut = scene.Since();
  scene.Temperature([shut](Millis since) { return Saw(since) + 3.5 * std::exp(-Minutes(since - shut) / 8); });
  scene.Run(hours{2});
  CHECK(std::ranges::any_of(scene.decisions, [](const Decision& decision) {
    return decision.alarm.kind == AlarmKind::kDoorOpen && decision.change == Decision::Change::kOver;
  }));
  CHECK(scene.View().shapes.back().kind == ShapeKind::kDoor);
  for (const Decision& decision : scene.decisions) {
    INFO(ToText(decision.alarm.kind) << " " << ToText(decision.change));
    CHECK((decision.alarm.kind != AlarmKind::kTooWarm || decision.alarm.severity >= Severity::kAct));
  }
}

TEST_CASE("air that falls by its last minutes is not asked after, though the mean of ten has not turned yet") {
  const auto asked = [](double top_minute) {
    Scene scene = Fridge();
    scene.Run(days{5});
    const Millis tick = scene.Since();
    scene.Take(KeeperTended{Scene::kFridge});
    // A defrost that fell into the round: up until its top, and then back by a quarter of a degree a minute.
    scene.Temperature([=](Millis since) {
      const double gone = Minutes(since - tick);
      return Saw(since) +
             (gone < top_minute ? 0.14 * gone : std::max(0.0, 0.14 * top_minute - 0.25 * (gone - top_minute)));
    });
    scene.Run(minutes{26});
    return !scene.decisions.empty();
  };
  CHECK(asked(40));
  CHECK_FALSE(asked(18));
}

// A door is left open behind a round; the alarm that asks after it stands.
static Scene Ajar(double by) {
  Scene scene = Fridge();
  scene.Run(days{5});
  const Millis tick = scene.Since();
  scene.Take(KeeperTended{Scene::kFridge});
  scene.Temperature([=](Millis since) {
    return 12.8 + by * (1 - std::exp(-Minutes(since - tick) / 8)) + 0.1 * std::sin(Minutes(since));
  });
  scene.Run(minutes{26});
  CHECK(scene.Told() == Lines{"120:25 door open raised watch"});
  return scene;
}

TEST_CASE(
    "whoever took the question after a door hears no second quiet word of the same air, and the act all the same") {
  Scene scene = Ajar(3.5);
  scene.TakeAlarm(AlarmKind::kDoorOpen).Run(hours{9});
  CHECK(scene.Told() == Lines{"120:26 door open taken", "123:39 too warm raised act", "123:39 door open quieted"});
}

TEST_CASE(
    "air that came back from behind a door ajar is told by the question alone, though its mean lies outside still") {
  Scene scene = Ajar(3.2);
  scene.Run(minutes{45});
  CHECK(scene.Told().empty());
  const auto shut = scene.Since();
  scene.Temperature([shut](Millis since) { return Saw(since) + 2.8 * std::exp(-Minutes(since - shut) / 20); });
  scene.Run(hours{4});
  REQUIRE(scene.decisions.size() == 1);
  const Alarm over = scene.decisions.front().alarm;
  const Lines told = scene.Told();
  CHECK(told[0].find("door open over") != std::string::npos);
  CHECK(over.ending == Ending::kReturned);
  CHECK(over.extreme > 15.8);
  REQUIRE(over.own.size() == 1);
  CHECK(over.own[0].value > 12.6);
  SECTION("what comes hours later is an event of its own") {
    scene.Temperature([](Millis since) { return 15.2 + 0.1 * std::sin(Minutes(since)); }).Run(hours{3});
    const Lines later = scene.Told();
    CHECK(
        std::ranges::any_of(later, [](const std::string& line) { return line.find("too warm") != std::string::npos; }));
  }
}

TEST_CASE("in the first days, too, a door left ajar by the last tick is asked after, once the air has left its band") {
  Scene scene = Fridge();
  scene.Run(hours{30});
  const Millis tick = scene.Since();
  scene.Take(KeeperTended{Scene::kFridge});
  scene.Temperature([tick](Millis since) {
    return 12.2 + 3.6 * (1 - std::exp(-Minutes(since - tick) / 18)) + 0.05 * std::sin(Minutes(since));
  });
  scene.Run(minutes{50});
  REQUIRE(scene.decisions.size() == 1);
  CHECK(scene.decisions[0].alarm.kind == AlarmKind::kDoorOpen);
  CHECK(scene.decisions[0].alarm.why == Why::kAfterRound);
}

TEST_CASE(
    "as long as no day was learned a door is asked after only where its air is beyond the band 20 minutes later") {
  const auto asked = [](Millis old, double slowly) {
    Scene scene = Fridge();
    scene.Run(old);
    const Millis tick = scene.Since();
    scene.Take(KeeperTended{Scene::kFridge});
    scene.Temperature([=](Millis since) {
      return 12.2 + 3.6 * (1 - std::exp(-Minutes(since - tick) / slowly)) + 0.05 * std::sin(Minutes(since));
    });
    scene.Run(minutes{50});
    const auto is_it = [](const Decision& decision) { return decision.alarm.why == Why::kAfterRound; };
    return std::ranges::any_of(scene.decisions, is_it);
  };
  CHECK(asked(hours{3}, 5));
  CHECK_FALSE(asked(hours{3}, 26));
  CHECK_FALSE(asked(hours{16}, 26));
  // It begins at 06:00: the first whole day ends at midnight of the second.
  CHECK(asked(hours{43}, 26));
}

TEST_CASE("a defrost on top of the air behind an open door that passes does not end the question") {
  Scene scene = Ajar(2.4);
  const Millis heats = scene.Since();
  const auto open = [](Millis since) { return 14.4 + 0.1 * std::sin(Minutes(since)); };
  scene.Temperature([=](Millis since) {
    const double gone = Minutes(since - heats);
    return open(since) + (gone < 15 ? 0.16 * gone : 2.4 * std::exp(-(gone - 15) / 8));
  });
  scene.Run(minutes{70});
  CHECK(scene.Told().empty());
  scene.Temperature(
      [shut = scene.Since()](Millis since) { return Saw(since) + 2 * std::exp(-Minutes(since - shut) / 8); });
  scene.Run(minutes{30});
  CHECK(std::ranges::any_of(scene.decisions, [](const Decision& decision) {
    return decision.alarm.kind == AlarmKind::kDoorOpen && decision.change == Decision::Change::kOver;
  }));
}

TEST_CASE("a pause of the air behind an open door does not end the question; the shut door does") {
  Scene scene = Ajar(3);
  const Millis paused = scene.Since();
  scene.Temperature([](Millis since) { return 14.9 + 0.1 * std::sin(Minutes(since)); }).Run(minutes{40});
  CHECK(scene.Told().empty());
  CHECK(scene.Since() - paused == minutes{40});
  scene.Temperature(
      [shut = scene.Since()](Millis since) { return Saw(since) + 2.6 * std::exp(-Minutes(since - shut) / 8); });
  scene.Run(minutes{30});
  const Lines told = scene.Told();
  REQUIRE(told.size() == 1);
  CHECK(told[0].find("door open over") != std::string::npos);
}

TEST_CASE("a door's contact rings after twenty minutes, and its shutting ends it") {
  Scene scene = Fridge();
  scene.HangChannel(15, Scene::kProbe, ChannelKind::kDoor, Scene::kFridge).Run(hours{1});
  scene.Say(15, 1).Run(minutes{19});
  CHECK(scene.Told().empty());
  scene.Run(minutes{1});
  CHECK(scene.Told() == Lines{"1:20 door open raised act"});
  scene.Say(15, 0);
  CHECK(scene.Told() == Lines{"1:20 door open over"});
}

}  // namespace rindwatch::rules
