#include <algorithm>
#include <cmath>
#include <numbers>

#include "rules/alarms/ahead.hpp"
#include "rules/alarms/first.hpp"
#include "rules/alarms/freezing.hpp"
#include "tests/catch.hpp"
#include "tests/rules/alarms/scene.hpp"

namespace rindwatch::rules {
namespace {

// A fridge with one pressed wheel, its air in the middle of the band, settled for three hours: the steps begin at 3:00.
Scene Settled(std::shared_ptr<const Plan> plan = Pressed(), double temperature = 12.5, double humidity = 85) {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, std::move(plan), 2000, 30).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(temperature).Humidity(humidity).Run(hours{3});
  CHECK(scene.Told() == Lines{});
  return scene;
}

// Rises by `height` within five minutes, stays until `span` has passed, and falls back with a time constant of eight.
double Bump(Millis since, Millis begin, Millis span, double height) {
  const double t = static_cast<double>((since - begin).count()) / 60000,
               end = static_cast<double>(span.count()) / 60000;
  if (t <= 0) return 0;
  if (t <= end) return height * (1 - std::exp(-t / 2));
  return height * std::exp(-(t - end) / 8);
}

double Saw(Millis since, Millis period, double swing) {
  const double turns = static_cast<double>(since.count()) / static_cast<double>(period.count());
  return swing / 2 * std::sin(2 * std::numbers::pi * turns);
}

}  // namespace

// Common practice, no source: an opened door lifts a fridge by 4 to 6 degrees and throws the humidity by 20 points.
TEST_CASE("a door that stands open for twenty minutes rings nothing") {
  Scene scene = Settled();
  scene.Temperature([](Millis t) { return 13.0 + Bump(t, hours{3}, minutes{20}, 6); });
  scene.Humidity([](Millis t) { return 85 - Bump(t, hours{3}, minutes{20}, 25); });
  scene.Run(hours{6});
  CHECK(scene.Told() == Lines{});
  CHECK(scene.View().state == CaveState::kInBand);
}

// Common practice, no source: a frost-free fridge defrosts once or twice a day, air up 2 to 6 degrees for 20 to 40 min.
TEST_CASE("defrosts ring nothing, not even the worst of them thrice a day") {
  Scene scene = Settled();
  scene.Temperature([](Millis t) { return 13.0 + Bump(t % hours{8}, hours{4}, minutes{40}, 6); });
  scene.Humidity([](Millis t) { return 85 + Bump(t % hours{8}, hours{4}, minutes{40}, 12); });
  scene.Run(days{4});
  CHECK(scene.Told() == Lines{});
}

TEST_CASE("plant cycles near the edge ring nothing and do not chatter") {
  Scene scene = Settled();
  SECTION("quick ones whose mean stays inside") {
    scene.Temperature([](Millis t) { return 14.2 + Saw(t, minutes{15}, 3); });
    scene.Humidity([](Millis t) { return 88.0 + Saw(t, minutes{15}, 25); });
    scene.Run(days{2});
    CHECK(scene.Told() == Lines{});
  }
  SECTION("slow ones whose mean touches the edge with each turn") {
    scene.Temperature([](Millis t) { return 14.2 + Saw(t, minutes{75}, 2); });
    scene.Run(days{2});
    CHECK(scene.Told() == Lines{});
  }
  SECTION("a mean that sits on the edge is told once, not daily") {
    scene.Temperature([](Millis t) { return 14.6 + Saw(t, minutes{15}, 2) + Saw(t, hours{24}, 0.5); });
    scene.Run(days{6});
    const Lines told = scene.Told();
    for (const std::string& line : told) UNSCOPED_INFO(line);
    CHECK(told.size() == 1);
  }
}

TEST_CASE("a dead compressor is told as watch, then as act, then as urgent") {
  // A fridge of 12.5 degrees in a room of 24 with a time constant of 4 h, T = 24 - 11.5 exp(-t / 4 h). The mean over
  // half an hour follows a quarter of an hour later.
  const auto warming = [](Millis t) {
    return 24 - 11.5 * std::exp(-std::max(0.0, static_cast<double>((t - hours{3}).count())) / 3600e3 / 4);
  };
  SECTION("with a pressed wheel in it") {
    Scene scene = Settled();
    scene.Temperature(warming).Run(hours{12});
    // T passes 14.5 after 46 min, 16.0 after 87, 22.5 after 8:09.
    CHECK(scene.Told() == Lines{"5:01 too warm raised watch", "7:42 too warm raised severity act",
                                "12:24 too warm raised severity urgent"});
    const Alarm alarm = scene.state.Alarms().front();
    CHECK(alarm.since == scene.At(hours{4} + minutes{1}));
    CHECK(alarm.value > 14.5);
    CHECK(alarm.extreme > 20);
    CHECK(alarm.band == Figure{10.5, 14.5, ""});
    CHECK(alarm.wheels == std::vector<WheelId>{1});
    CHECK(scene.View().state == CaveState::kOutOfBand);
    CHECK(scene.View().temperature.side == 1);
  }
  SECTION("with a soft one, whose band ends sooner and which cannot wait") {
    Scene scene = Settled(Bloomy(), 11.5, 93);
    scene.Temperature(warming).Run(hours{12});
    // T passes 13.5 after 22 min, 15.0 after 59, 17.5 after 2:17.
    CHECK(scene.Told() == Lines{"4:37 too warm raised watch", "5:14 too warm raised severity act",
                                "6:32 too warm raised severity urgent"});
  }
}

TEST_CASE("a little too warm for very long is an act by its dose") {
  Scene scene = Settled();
  // 2 K over the edge would be 20 degree-hours in ten hours; it lies under the act limit of 1.5 K only at 1.25 K: 16 h.
  scene.Temperature(15.75).Run(hours{24});
  const Lines told = scene.Told();
  REQUIRE(told.size() == 2);
  CHECK(told[1].find("raised severity act") != std::string::npos);
  const Alarm alarm = scene.state.Alarms().front();
  CHECK(alarm.dose == Approx(1.25 * (24 - 0.5)).margin(1.0));
}

TEST_CASE("too cold: watch after three hours, act near freezing, urgent at freezing") {
  SECTION("a little too cold") {
    Scene scene = Settled();
    scene.Temperature(9.0).Run(hours{12});
    // The mean leaves 10.5 with the 18th minute of the new air (12.5 - 3.5 * 18 / 30).
    CHECK(scene.Told() == Lines{"6:18 too cold raised watch"});
    CHECK(scene.View().temperature.side == -1);
  }
  SECTION("2 degrees") {
    Scene scene = Settled();
    scene.Temperature(2.0).Run(hours{12});
    const Lines told = scene.Told();
    REQUIRE(told.size() == 1);  // act comes before watch would have
    CHECK(told[0].find("too cold raised act") != std::string::npos);
  }
  SECTION("freezing") {
    Scene scene = Settled();
    scene.Temperature(-2.0).Run(hours{12});
    const Lines told = scene.Told();
    // As fast as no fridge cools: it is seen to freeze before its mean does.
    CHECK(told == Lines{"3:10 too cold raised act", "3:41 too cold raised severity urgent"});
  }
  SECTION("a holding stage that lives at 2 degrees is not told to be cold at 1") {
    Scene scene = Settled(PlanOf("holding", 0, Figure{0.5, 6.5, ""}, std::nullopt), 2);
    scene.Temperature(1.0).Run(days{1});
    CHECK(scene.Told() == Lines{});
    scene.Temperature(-1.0).Run(hours{2});
    const Lines told = scene.Told();
    for (const std::string& line : told) UNSCOPED_INFO(line);
    REQUIRE(!told.empty());
    CHECK(told.back().find("urgent") != std::string::npos);
  }
}

TEST_CASE("air that falls like a stone is an act before it freezes; air that comes to rest is none") {
  Scene scene;
  scene.own.clear();
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Bloomy(), 250).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature([](Millis since) { return 11.5 + 0.4 * std::sin(static_cast<double>(since / minutes{1}) / 5); });
  scene.Humidity([](Millis since) { return 92 + std::sin(static_cast<double>(since / minutes{1}) / 7); });
  scene.Run(days{6});
  CHECK(scene.Told() == Lines{});
  const Millis on = scene.Since();
  const auto falls = [&](double to, double minutes_of_it) {
    scene.Temperature([=](Millis since) {
      const double passed = static_cast<double>((since - on) / minutes{1});
      return to + (11.5 - to) * std::exp(-passed / minutes_of_it) + 0.05 * std::sin(passed);
    });
  };
  SECTION("a plant that runs on") {
    falls(-6, 100);
    scene.Run(minutes{70});
    REQUIRE(scene.decisions.size() == 1);
    const Decision told = scene.decisions.front();
    CHECK(told.alarm.severity == Severity::kAct);
    CHECK(told.alarm.why == Why::kFreezesSoon);
    // It would be at 0 degrees after 107 minutes.
    CHECK(told.at - scene.At(on) < minutes{65});
    CHECK(told.alarm.since < told.at);
    CHECK(KnownOf(told.alarm, "", {told.alarm}, std::nullopt, told.at) == Knowing::kPress);
    const auto left = FreezesWithin(scene.state, Scene::kFridge, scene.Now());
    REQUIRE(left);
    // It is there 37 minutes later.
    CHECK(left->soonest >= minutes{20});
    CHECK(left->soonest <= minutes{37});
    CHECK(left->latest >= minutes{37});
    CHECK(left->latest <= minutes{90});
  }
  SECTION("a thermostat that was turned down by three degrees") {
    falls(8.5, 30);
    scene.Run(hours{6});
    CHECK(scene.Told() == Lines{"145:16 too cold raised watch"});
    CHECK_FALSE(FreezesWithin(scene.state, Scene::kFridge, scene.Now()));
  }
}

TEST_CASE("what is written like the edge of the band is not told as beyond it") {
  Scene scene = Settled();
  SECTION("however long") {
    scene.Humidity(79.6).Run(days{3});
    CHECK(scene.Told() == Lines{});
  }
  SECTION("what is written beyond it is") {
    scene.Humidity(79.4).Run(hours{4});
    CHECK(scene.Told().size() == 1);
  }
}

TEST_CASE("the humidity of finished cheese is judged where a keeper typed it in, and by nothing else") {
  Scene scene;
  CaveGiven given{Scene::kFridge, {}, DayTurn{}, {}, {}, scene.own};
  given.ready_cheese = true;
  const bool typed = GENERATE(false, true);
  if (typed) given.humidity_limit = Figure{70, 80, "typed"};
  scene.Take(given).Lay(1, Scene::kFridge, Pressed(), 250).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(2).Humidity(45).Run(days{1});
  if (typed) {
    CHECK_FALSE(scene.Told().empty());
  } else {
    CHECK(scene.Told() == Lines{});
    CHECK(scene.View().humidity.state == CaveState::kNotWatched);
    CHECK(scene.View().temperature.state == CaveState::kInBand);
  }
}

TEST_CASE(
    "finished cheese a little under freezing is a quiet word, and two degrees under it asks for a hand, no more") {
  const auto told_at = [](double degrees) {
    Scene scene;
    CaveGiven given{Scene::kFridge, {}, DayTurn{}, {}, {}, scene.own};
    given.ready_cheese = true;
    scene.Take(given).Lay(1, Scene::kFridge, Pressed(), 250).Hang(Scene::kProbe, Scene::kFridge);
    scene.Temperature(2).Humidity(85).Run(hours{3});
    scene.Temperature(degrees).Run(hours{12});
    return scene.Told();
  };
  CHECK(told_at(-0.5) == Lines{"4:25 too cold raised watch"});
  const Lines told = told_at(-2);
  REQUIRE(told.size() == 2);
  CHECK(told[0].find("too cold raised watch") != std::string::npos);
  CHECK(told[1].find("too cold raised severity act") != std::string::npos);
}

TEST_CASE("what is written like the edge of the band lies within it") {
  Scene scene = Settled(PlanOf("box", 2, Figure{9, 13, ""}, Figure{85, 90, ""}), 12, 88);
  scene.Humidity(90.4).Run(hours{2});
  CHECK(scene.View().humidity.state != CaveState::kOutOfBand);
  scene.Humidity(90.6).Run(hours{2});
  CHECK(scene.View().humidity.state == CaveState::kOutOfBand);
  // No word that comes and goes with a digit.
  scene.Humidity(90.4).Run(hours{2});
  CHECK(scene.View().humidity.state == CaveState::kOutOfBand);
  scene.Humidity(89.9).Run(hours{2});
  CHECK(scene.View().humidity.state == CaveState::kInBand);
}

TEST_CASE("too dry: watch after two hours, act 5 points further after four, after two where a soft cheese lies") {
  SECTION("pressed") {
    Scene scene = Settled();
    scene.Humidity(70).Run(hours{8});
    // The mean over an hour leaves 80 with the 21st minute and 75 with the 41st.
    CHECK(scene.Told() == Lines{"5:21 too dry raised watch", "7:41 too dry raised severity act"});
  }
  SECTION("soft") {
    Scene scene = Settled(Bloomy(), 11.5, 93);
    scene.Humidity(73).Run(hours{8});
    // Leaves 88 with the 16th minute and 83 with the 31st.
    CHECK(scene.Told() == Lines{"5:16 too dry raised watch", "5:31 too dry raised severity act"});
  }
}

TEST_CASE("too damp: watch after six hours, act after a day; a band that reaches 100 has no damp side") {
  SECTION("pressed") {
    Scene scene = Settled();
    scene.Humidity(97).Run(hours{30});
    // The mean leaves 90 with the 26th minute.
    CHECK(scene.Told() == Lines{"9:26 too damp raised watch", "27:41 too damp raised severity act"});
  }
  SECTION("no further over than a probe may be wrong") {
    Scene scene = Settled();
    scene.Humidity(92.5).Run(days{3});
    CHECK(scene.Told() == Lines{"9:41 too damp raised watch"});
  }
  SECTION("near the end of the scale half of what is left") {
    Scene scene = Settled(PlanOf("bloomy", 0, std::nullopt, Figure{88, 96, ""}), 12, 93);
    scene.Humidity(98.3).Run(days{2});
    const Lines told = scene.Told();
    REQUIRE(!told.empty());
    CHECK(told.back().find("too damp raised severity act") != std::string::npos);
  }
  SECTION("to the end of the scale") {
    Scene scene = Settled(PlanOf("smeared", 0, std::nullopt, Figure{90, 100, ""}), 12, 95);
    scene.Humidity(104).Run(days{3});
    CHECK(scene.Told() == Lines{"4:01 probe wet raised watch"});
  }
}

TEST_CASE("what falls back and comes to rest inside its band drifts nowhere, what goes on falling does") {
  const auto drifts = [](const Scene::Course& course) {
    Scene scene;
    scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
    scene.Temperature(14).Humidity(85).Run(hours{3}).Temperature(course);
    int cold = 0;
    for (int minute = 0; minute < 300; ++minute) {
      scene.Run(minutes{1});
      const CaveView view = scene.View();
      cold += view.state == CaveState::kDrifting && view.temperature.side < 0;
    }
    return cold;
  };
  const auto since = [](Millis t) { return static_cast<double>((t - hours{3}) / minutes{1}); };
  // Its band begins at 10.5.
  // While its first windows still hold what was before, nothing tells that it slows down.
  CHECK(drifts([since](Millis t) { return 11.4 + 2.6 * std::exp(-since(t) / 45); }) < 20);
  CHECK(drifts([since](Millis t) { return 14 - since(t) / 60; }) > 30);
}

TEST_CASE("what comes back from beyond one edge is not told to drift across the other") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed()).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(2).Humidity(85).Run(hours{4});
  const Millis back = scene.Since();
  scene.Temperature(
      [back](Millis since) { return 13.2 - 11.2 * std::exp(-static_cast<double>((since - back) / minutes{1}) / 40); });
  for (int i = 0; i < 30; ++i) {
    scene.Run(minutes{5});
    CHECK_FALSE((scene.View().state == CaveState::kDrifting && scene.View().temperature.side > 0));
  }
}

TEST_CASE("a mean that rises behind a door that is shut again drifts nowhere") {
  Scene scene = Settled();
  const Millis opened = scene.Since();
  scene.Temperature([opened](Millis since) { return 12.5 + Bump(since, opened, minutes{20}, 2.5); });
  bool fell = false;
  for (int minute = 0; minute < 90; ++minute) {
    scene.Run(minutes{1});
    const ChannelView air = scene.View().temperature;
    if (!air.mean || !air.latest || *air.mean - *air.latest < 1) continue;
    fell = true;
    CHECK(scene.View().state == CaveState::kInBand);
  }
  CHECK(fell);
}

TEST_CASE("air on its way back is so only if it is there within the hour, and a cold one only after two windows") {
  using watch::AirMean, watch::IsBackWithin;
  AirMean air;
  air.window_minutes = 30;
  air.mean = 16.7;
  air.recent = 16.6;
  air.last = 16.6;
  CHECK_FALSE(IsBackWithin(air, 14.5, 1, hours{1}));  // a tenth of a degree in ten minutes
  air.recent = 16.1;
  CHECK(IsBackWithin(air, 14.5, 1, hours{1}));
  air.mean = 16.0;
  CHECK_FALSE(IsBackWithin(air, 14.5, 1, hours{1}));
  AirMean cold;
  cold.window_minutes = 30;
  cold.mean = -0.8;
  cold.recent = 0.9;
  cold.last = 1.3;
  cold.before = -0.6;
  cold.long_before = 0.2;
  CHECK_FALSE(IsBackWithin(cold, 6.5, -1, hours{1}));  // a defrost
  cold.long_before = -2.0;
  CHECK(IsBackWithin(cold, 6.5, -1, hours{1}));
}

TEST_CASE("of an alarm whose air was unknown for a while it is kept for how long") {
  Scene scene = Settled();
  scene.Temperature(19.0).Run(hours{5}).Silent().Wait(hours{2});
  scene.Temperature(12.5).Humidity(85).Run(hours{4});
  const auto over = std::ranges::find_if(scene.decisions, [](const Decision& decision) {
    return decision.alarm.kind == AlarmKind::kTooWarm && decision.change == Decision::Change::kOver;
  });
  REQUIRE(over != scene.decisions.end());
  CHECK(over->alarm.Unknown() >= hours{2});
  CHECK(over->alarm.Unknown() <= hours{3});
}

TEST_CASE("a delay counts only the time beyond: a short return pauses it, ten minutes inside begin it anew") {
  Scene scene = Settled();
  // 15.0 for good, but for three minutes of 9.0, which take the mean inside, and as many of 21.0, which take it out
  // again.
  const auto dip = [](Millis gap) {
    return [gap](Millis t) {
      const Millis since = t - hours{4};
      if (since > minutes{0} && since <= minutes{3}) return 9.0;
      return since > gap && since <= gap + minutes{3} ? 21.0 : 15.0;
    };
  };
  SECTION("unbroken") {
    scene.Temperature(15.0).Run(hours{3});
    CHECK(scene.Told() == Lines{"4:25 too warm raised watch"});
  }
  SECTION("inside for six minutes") {
    scene.Temperature(dip(minutes{8})).Run(hours{3});
    CHECK(scene.Told() == Lines{"4:31 too warm raised watch"});
  }
  SECTION("inside for nine") {
    scene.Temperature(dip(minutes{11})).Run(hours{3});
    CHECK(scene.Told() == Lines{"4:34 too warm raised watch"});
  }
  SECTION("inside for ten") {
    scene.Temperature(dip(minutes{12})).Run(hours{3});
    CHECK(scene.Told() == Lines{"5:13 too warm raised watch"});
  }
}

TEST_CASE("an alarm is over after an hour back inside by the deadband, and not for less") {
  Scene scene = Settled();
  scene.Temperature(15.5).Run(hours{2});
  CHECK(scene.Told() == Lines{"4:21 too warm raised watch"});
  SECTION("inside, but not by the deadband") {
    scene.Temperature(14.2).Run(hours{5});
    CHECK(scene.Told() == Lines{});
    CHECK(scene.View().state == CaveState::kInBand);  // by its figure; that it is not over says the alarm
    scene.Temperature(13.9).Run(hours{2});
    CHECK(scene.decisions.back().alarm.ending == Ending::kReturned);
    CHECK(scene.Told() == Lines{"11:20 too warm over"});
  }
  SECTION("nor by a day inside, where each day it leaves again") {
    scene.Temperature([](Millis t) { return 14.35 + Saw(t, days{1}, 0.6); }).Run(days{5});
    CHECK(scene.Told() == Lines{});
  }
  SECTION("inside at all for a day: a cave that is kept near the edge is never further in") {
    scene.Temperature(14.2).Run(hours{6});
    REQUIRE(scene.state.Alarms().size() == 1);
    CHECK(scene.state.Alarms().front().inside_since == scene.At(hours{5} + minutes{24}));
    scene.Run(days{1});
    const Decision over = scene.decisions.back();
    CHECK(scene.Told() == Lines{"29:24 too warm over"});
    CHECK(over.alarm.back_since == scene.At(hours{5} + minutes{24}));
    CHECK(over.alarm.ending == Ending::kInside);
    CHECK_FALSE(over.alarm.inside_since);
  }
  SECTION("back for 40 minutes, out again, back") {
    scene.Temperature(13.0).Run(minutes{60}).Temperature(15.5).Run(minutes{60}).Temperature(13.0).Run(hours{1});
    CHECK(scene.Told() == Lines{});
    scene.Run(hours{1});
    CHECK(scene.Told() == Lines{"8:18 too warm over"});
  }
}

TEST_CASE("no limit, no judgement: an empty cave, a stage without a band") {
  Scene scene;
  scene.Give(Scene::kFridge).Hang(Scene::kProbe, Scene::kFridge).Temperature(30).Humidity(20);
  const bool drying = GENERATE(false, true);
  if (drying) scene.Lay(1, Scene::kFridge, PlanOf("drying", 0, {}, {}));
  scene.Run(hours{12});
  CHECK(scene.Told() == Lines{});
  CHECK_FALSE(scene.View().temperature.band);
  CHECK(scene.View().temperature.mean == 30.0);
  CHECK(scene.View().state == CaveState::kNotWatched);
}

TEST_CASE("an alarm lists every wheel that it came to touch") {
  Scene scene;
  scene.Give(Scene::kFridge).Hang(Scene::kProbe, Scene::kFridge);
  scene.Lay(1, Scene::kFridge, PlanOf("wide", 2, Figure{9, 16, ""}, std::nullopt), 2000);
  scene.Lay(2, Scene::kFridge, PlanOf("narrow", 2, Figure{9, 13, ""}, std::nullopt), 2000);
  scene.Temperature(12).Humidity(85).Run(hours{3});
  scene.Temperature(13.8).Run(hours{3});
  REQUIRE(scene.state.Alarms().size() == 1);
  CHECK(scene.state.Alarms().front().wheels == std::vector<WheelId>{2});
  scene.Temperature(16.5).Run(hours{1});
  CHECK(scene.state.Alarms().front().wheels == std::vector<WheelId>{2, 1});
}

TEST_CASE("limits that the keeper typed win over the band, and judge an empty cave too") {
  Scene scene;
  scene.Give(Scene::kFridge, {}, Figure{10, 20, "typed"}).Hang(Scene::kProbe, Scene::kFridge).Humidity(20);
  SECTION("with a wheel that would like it cooler") {
    scene.Lay(1, Scene::kFridge, Pressed(), 0, 30).Temperature(19).Run(hours{12});
    CHECK(scene.Told() == Lines{"3:00 too dry raised watch", "5:00 too dry raised severity act"});
    CHECK(scene.View().temperature.state == CaveState::kInBand);
  }
  SECTION("empty") {
    scene.Temperature(21).Run(hours{12});
    CHECK(scene.Told() == Lines{"1:30 too warm raised watch"});
    CHECK(scene.state.Alarms().front().wheels.empty());
  }
  CHECK(scene.View().temperature.band == Figure{10, 20, "typed"});
}

TEST_CASE("an alarm ends at once when nothing is judged any more") {
  Scene scene = Settled();
  scene.Temperature(16).Run(hours{3});
  CHECK(scene.Told().size() == 1);
  SECTION("the wheel was moved away") {
    scene.Lay(1, Scene::kRoom, Pressed());
    CHECK(scene.decisions.back().alarm.ending == Ending::kNotAsked);
    CHECK(scene.Told() == Lines{"6:00 too warm over"});
  }
  SECTION("the probe was taken down") {
    scene.Hang(Scene::kProbe, std::nullopt);
    CHECK(scene.decisions.back().alarm.ending == Ending::kTakenDown);
    CHECK(scene.Told() == Lines{"6:00 too warm over"});
  }
}

TEST_CASE("the means of several probes are one mean") {
  Scene scene = Settled();
  // Farther apart than this from the start is no gradient but a contradiction.
  scene.Temperature(13.5).Hang(2, Scene::kFridge).Temperature(14.9, 2).Humidity(85, 2).Run(hours{3});
  // 13.5 and 14.9 make 14.2, inside.
  CHECK(scene.View().temperature.mean == Approx(14.2));
  CHECK(scene.Told() == Lines{});
  SECTION("one falls silent: the other one judges on") {
    scene.Silent(1).Run(hours{3});
    CHECK(scene.View().temperature.mean == Approx(14.9));
    CHECK(scene.View().state == CaveState::kOutOfBand);
    CHECK(scene.Told() == Lines{"6:45 probe silent raised watch", "7:03 too warm raised watch",
                                "9:00 probe silent raised severity act"});
  }
}

TEST_CASE("for how long it was beyond is counted by itself: an alarm stands for longer") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
  // The band ends at 14.5; near its edge it waits for a day.
  scene.Temperature(12.5).Humidity(85).Run(hours{3}).Temperature(17).Run(hours{4}).Temperature(14.3).Run(hours{10});
  scene.Temperature(17).Run(hours{2}).Temperature(12.5).Run(hours{4});
  const auto over = std::ranges::find_if(
      scene.decisions, [](const Decision& decision) { return decision.change == Decision::Change::kOver; });
  REQUIRE(over != scene.decisions.end());
  CHECK(over->alarm.LastedUntil() - over->alarm.since > hours{15});
  CHECK(over->alarm.beyond > hours{5});
  CHECK(over->alarm.beyond < hours{7});
}

TEST_CASE("the dose of dry and of damp air is in point-hours beyond the band, at the mean that is judged") {
  // 80 to 90 %; a day and a half ten or seven points beyond, by a mean of an hour that goes there and back by itself.
  for (const double humidity : {70.0, 97.0}) {
    CAPTURE(humidity);
    const double edge = humidity < 80 ? 80 : 90, way = std::abs(humidity - 85), beyond = std::abs(humidity - edge);
    Scene scene;
    scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
    scene.Temperature(12.5).Humidity(85).Run(hours{3}).Humidity(humidity).Run(hours{36}).Humidity(85).Run(hours{4});
    const auto over = std::ranges::find_if(
        scene.decisions, [](const Decision& decision) { return decision.change == Decision::Change::kOver; });
    REQUIRE(over != scene.decisions.end());
    // Two slopes, each beyond the edge for that share of its hour, and the level hours between.
    const double slope = beyond * beyond / way / 2;
    CHECK(over->alarm.dose == Approx(35 * beyond + 2 * slope).margin(0.5));
  }
}

}  // namespace rindwatch::rules
