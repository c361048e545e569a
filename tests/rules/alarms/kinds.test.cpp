// The kinds beside the four of the air, each as a keeper would meet it. Invented caves, wheels and probes.
#include <algorithm>
#include <cmath>

#include "rules/alarms/doubts.hpp"
#include "rules/alarms/first.hpp"
#include "tests/catch.hpp"
#include "tests/rules/alarms/plant.hpp"

namespace rindwatch::rules {
namespace {

using Lines = std::vector<std::string>;

}  // namespace

TEST_CASE("a plant without cold rings before its air has been out for long, and says how long the wheels have") {
  Scene scene = Fridge(250);
  scene.Run(days{6});
  CHECK(scene.Told().empty());
  const Millis dead = scene.Since();
  scene.Temperature([dead](Millis since) { return 20 - 7.6 * std::exp(-Minutes(since - dead) / 240); });
  scene.Run(hours{3});
  REQUIRE(!scene.decisions.empty());
  const Alarm& alarm = scene.decisions.front().alarm;
  CHECK(alarm.kind == AlarmKind::kTooWarm);
  CHECK(alarm.severity == Severity::kAct);
  CHECK(alarm.why == Why::kNotTurning);
  CHECK(alarm.raised - scene.At(dead) < hours{2});
  REQUIRE(alarm.matters.size() == 1);
  CHECK(alarm.matters[0].wheels == std::vector<WheelId>{1});
  CHECK(alarm.matters[0].soonest > minutes{0});
  CHECK(alarm.matters[0].soonest < hours{3});
}

TEST_CASE("what rang by not turning is too warm from when it left its band, and until then only getting warmer") {
  Scene scene = Fridge();
  scene.Run(days{6}).Told();
  const Millis begun = scene.Since();
  // It creeps up for half a day, and comes to rest beyond its band.
  scene.Temperature([begun](Millis since) { return Saw(since) + std::min(2.6, 0.2 * Minutes(since - begun) / 60); });
  std::optional<Instant> left;
  for (int hour = 0; hour < 16; ++hour) {
    scene.Run(hours{1});
    const auto alarms = scene.state.Alarms();
    const auto warm = std::ranges::find(alarms, AlarmKind::kTooWarm, &Alarm::kind);
    if (warm == alarms.end()) continue;
    CAPTURE(hour, warm->extreme, ToText(warm->why));
    if (NeverLeft(*warm)) {
      CHECK(warm->since < scene.At(begun + hours{8}));
    } else if (warm->why == Why::kNotTurning) {
      left = warm->since;
    }
  }
  REQUIRE(left);
  CHECK(*left > scene.At(begun + hours{8}));
}

TEST_CASE("a wheel that its cave never suits does not lead a forecast with now") {
  Scene scene = Fridge(250);
  // It wants the cold store, and lies at 12.5 degrees all its days.
  scene.Lay(2, Scene::kFridge, PlanOf("held", 2, Figure{2, 6, "CP"}, std::nullopt), 2000).Run(days{6});
  scene.Told();
  const Millis dead = scene.Since();
  scene.Temperature([dead](Millis since) { return 20 - 7.6 * std::exp(-Minutes(since - dead) / 240); });
  scene.Run(hours{2});
  REQUIRE(!scene.state.Alarms().empty());
  const Alarm alarm = scene.state.Alarms().front();
  REQUIRE(alarm.matters.size() == 2);
  CHECK(alarm.matters.front().wheels == std::vector<WheelId>{1});
  CHECK(alarm.matters.front().soonest > minutes{0});
  CHECK(alarm.matters.back().soonest > alarm.matters.front().soonest);
}

TEST_CASE("behind a door that stands open the air comes to rest, and wheels are foreseen all the same") {
  Scene scene = Fridge(8000);
  scene.Run(days{6});
  const Millis opened = scene.Since();
  scene.Temperature([opened](Millis since) {
    const double t = Minutes(since - opened);
    return 12.5 + 7.5 * (1 - std::exp(-t / 15)) + 0.2 * std::sin(t / 6);
  });
  scene.Run(hours{2});
  REQUIRE(!scene.state.Alarms().empty());
  const Alarm alarm = scene.state.Alarms().front();
  REQUIRE(alarm.matters.size() == 1);
  const Matter matter = alarm.matters.front();
  CHECK(matter.soonest > minutes{0});
  REQUIRE(matter.latest);
  // And so it comes: its core leaves 14.5 within the span, taken off what passed since the forecast of this hour.
  const Instant foreseen = scene.Now() - (scene.Now() - alarm.raised) % minutes{15};
  while (scene.View().wheels.at(0).core < 14.5) scene.Run(minutes{5});
  CHECK(scene.Now() >= foreseen + matter.soonest);
  CHECK(scene.Now() <= foreseen + *matter.latest + minutes{5});
}

TEST_CASE("a plant that dies in the first days is told by what is usual anywhere") {
  Scene scene = Fridge(250);
  scene.Run(hours{30});
  const Millis dead = scene.Since();
  scene.Temperature([dead](Millis since) { return 20 - 7.6 * std::exp(-Minutes(since - dead) / 240); });
  scene.Run(hours{4});
  const auto aloud =
      std::ranges::find_if(scene.decisions, [](const Decision& one) { return one.alarm.severity >= Severity::kAct; });
  REQUIRE(aloud != scene.decisions.end());
  CHECK(aloud->alarm.why == Why::kNotTurningYet);
}

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

TEST_CASE(
    "where each place has but one probe, all of the house silent together is told as power, and one alone is not") {
  Scene scene = Fridge();
  scene.Give(Scene::kRoom).Lay(7, Scene::kRoom, Bloomy(), 250).Hang(2, Scene::kRoom);
  scene.Temperature([](Millis since) { return Saw(since) - 1; }, 2).Humidity(Lively(93), 2).Run(hours{2});
  scene.Told();
  SECTION("both") {
    scene.Silent(1).Silent(2).Run(minutes{30});
    const std::vector<std::string> told = scene.Told();
    CHECK(told == std::vector<std::string>{"2:03 power gone raised act", "2:03 power gone raised act"});
    for (const Alarm& alarm : scene.state.Alarms()) CHECK(alarm.why == Why::kEverywhere);
  }
  SECTION("one") {
    scene.Silent(2).Run(hours{1});
    const std::vector<std::string> told = scene.Told();
    REQUIRE(told.size() == 1);
    CHECK(told[0].find("probe silent raised watch") != std::string::npos);
  }
}

TEST_CASE("all probes of a fridge silent together is its power, told at once and never twice") {
  Scene scene = Fridge();
  scene.Hang(2, Scene::kFridge);
  scene.Temperature([](Millis since) { return Saw(since) + 0.2; }, 2).Humidity(Lively(84), 2).Run(hours{2});
  scene.Silent(1).Silent(2).Run(hours{7});
  CHECK(scene.Told() == Lines{"2:03 power gone raised act", "8:00 power gone raised severity urgent"});
  CHECK(scene.View().state == CaveState::kUnknown);
  scene.Temperature(16.5).Humidity(90).Temperature(16.6, 2).Humidity(90, 2).Run(minutes{2});
  REQUIRE(!scene.decisions.empty());
  const Decision& over = scene.decisions.front();
  CHECK(over.change == Decision::Change::kOver);
  CHECK(over.alarm.kind == AlarmKind::kPowerGone);
  CHECK(over.alarm.extreme == Approx(16.5).margin(0.2));
  REQUIRE(over.alarm.warmest);
  CHECK(*over.alarm.warmest < 16.6);
  CHECK(*over.alarm.warmest > 13);
}

TEST_CASE("one probe alone that falls silent is no power cut") {
  Scene scene = Fridge();
  scene.Run(hours{2}).Silent().Run(hours{1});
  const Lines told = scene.Told();
  REQUIRE(told.size() == 1);
  CHECK(told[0].find("probe silent") != std::string::npos);
}

TEST_CASE("at night a silent probe waits for morning while another one speaks and the air was calm") {
  Scene scene = Fridge();
  scene.Hang(2, Scene::kFridge);
  scene.Temperature([](Millis since) { return Saw(since) + 0.2; }, 2).Humidity(Lively(84), 2);
  scene.Run(hours{17}).Silent(1).Run(hours{12});  // from 23:00
  CHECK_FALSE(scene.decisions.front().alarm.waited);
  CHECK(scene.decisions.back().alarm.waited);
  CHECK(scene.Told() == Lines{"17:45 probe silent raised watch", "24:30 probe silent raised severity act"});
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
  scene.Temperature([](Millis since) { return Saw(since, 11); }).Humidity(Lively(72)).Run(hours{72});
  const auto told = std::ranges::find_if(scene.decisions,
                                         [](const Decision& decision) { return decision.alarm.why == Why::kSlowFall; });
  REQUIRE(told != scene.decisions.end());
  CHECK(told->at - dry > hours{42});
  CHECK(told->at - dry < hours{56});
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

TEST_CASE("after a start it is told whether the fridge was without power or only the watch") {
  const auto after = [](double degrees) {
    Scene scene = Fridge();
    scene.Run(days{1}).Take(Stopped{});
    scene.Silent().Wait(hours{5}).Take(Started{});
    scene.Temperature(degrees).Humidity(85).Run(minutes{3});
    REQUIRE(!scene.decisions.empty());
    CHECK(scene.decisions.front().alarm.why == Why::kUnheard);
    CHECK(scene.decisions.back().change == Decision::Change::kOver);
    return scene.decisions.back().alarm;
  };
  const Alarm calm = after(12.5), warm = after(15.1);
  CHECK(calm.kind == AlarmKind::kUnwatched);
  CHECK(calm.why == Why::kOnlyTheWatch);
  CHECK(calm.severity == Severity::kHint);
  CHECK(warm.why == Why::kWarmedMeanwhile);
  CHECK(warm.severity == Severity::kWatch);
  CHECK(warm.before.value_or(0) == Approx(12.5).margin(0.5));
  CHECK(warm.value == Approx(15.1));
  REQUIRE(warm.warmest);
  CHECK(*warm.warmest < 15.1);
  CHECK(*warm.warmest > 13.3);
}

TEST_CASE("what a thermometer says before it has measured once is no air of a time that nobody watched") {
  Scene scene = Fridge();
  scene.Run(days{1}).Take(Stopped{});
  scene.Silent().Wait(hours{5}).Take(Started{});
  scene.Temperature(85).Humidity(85).Run(minutes{1});
  scene.Temperature(12.5).Run(minutes{3});
  const auto told = std::ranges::find(scene.decisions, Decision::Change::kOver, &Decision::change);
  REQUIRE(told != scene.decisions.end());
  CHECK(told->alarm.kind == AlarmKind::kUnwatched);
  CHECK(told->alarm.why == Why::kOnlyTheWatch);
  CHECK(told->alarm.value == Approx(12.5));
}

TEST_CASE("that nobody watched stands until the air is heard, and tells its span from the start on") {
  Scene scene = Fridge();
  scene.Run(days{1}).Take(Stopped{});
  const Instant left = scene.Now();
  scene.Silent().Wait(hours{5}).Take(Started{});
  const Instant start = scene.Now();
  const auto unwatched = [&]() -> std::optional<Alarm> {
    for (const Alarm& alarm : scene.state.Alarms()) {
      if (alarm.kind == AlarmKind::kUnwatched) return alarm;
    }
    return std::nullopt;
  };
  REQUIRE(unwatched());
  CHECK_FALSE(unwatched()->over);
  CHECK_FALSE(unwatched()->warmest);
  CHECK(unwatched()->since == left);
  CHECK(unwatched()->LastedUntil() == start);
  scene.Wait(hours{2});
  CHECK_FALSE(unwatched()->over);
  SECTION("what comes long after says how it is, and of whose power nothing") {
    scene.Temperature(15.1).Humidity(85).Run(minutes{3});
    CHECK(unwatched()->over);
    CHECK(unwatched()->why == Why::kUnheard);
    CHECK(unwatched()->severity == Severity::kHint);
    CHECK(unwatched()->value == Approx(15.1));
    CHECK(unwatched()->LastedUntil() == start);
  }
  SECTION("where no probe hangs any more nothing is waited for") {
    scene.Hang(Scene::kProbe, std::nullopt);
    CHECK(unwatched()->over);
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
