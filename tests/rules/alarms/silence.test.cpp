#include <algorithm>

#include "tests/catch.hpp"
#include "tests/rules/alarms/scene.hpp"

namespace rindwatch::rules {
namespace {

// A fridge whose probe spoke each minute until 3:00 and then fell silent.
Scene Silenced(std::shared_ptr<const Plan> plan, double grams) {
  Scene scene;
  scene.Give(Scene::kFridge).Hang(Scene::kProbe, Scene::kFridge);
  if (plan) scene.Lay(1, Scene::kFridge, std::move(plan), grams);
  scene.Temperature(12.5).Humidity(89).Run(hours{3}).Silent();
  CHECK(scene.Told() == Lines{});
  return scene;
}

bool Unknown(const Scene& scene) { return scene.View().state == CaveState::kUnknown; }

}  // namespace

TEST_CASE("three missed readings and half an interval of grace make a cave unknown, and never in band") {
  Scene scene = Silenced(Pressed(), 2000);
  CHECK(scene.View().state == CaveState::kInBand);
  CHECK(NextDeadline(scene.state).value() == scene.At(hours{3} + minutes{1}));
  scene.Wait(minutes{3} + seconds{29});
  CHECK(scene.View().state == CaveState::kInBand);
  CHECK(NextDeadline(scene.state).value() == scene.At(hours{3} + minutes{3} + seconds{30}));
  // Also for one who looks before the engine has been woken.
  CHECK(scene.state.View(Scene::kFridge, scene.Now() + seconds{1}).state == CaveState::kUnknown);
  scene.Wait(seconds{1});
  CHECK(Unknown(scene));
  CHECK(scene.View().temperature.silent);
  CHECK_FALSE(scene.View().temperature.mean);
  CHECK(scene.View().temperature.latest == 12.5);
  CHECK(scene.Told() == Lines{});
}

TEST_CASE("a probe that hangs and never spoke is unknown from the start") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
  CHECK(Unknown(scene));
  scene.Wait(hours{1});
  CHECK(scene.Told() == Lines{"0:45 probe silent raised watch"});
}

TEST_CASE("a silent probe is told after 45 minutes; when to act depends on what stands there") {
  const auto told_by = [](std::shared_ptr<const Plan> plan, double grams, Millis silent) {
    Scene scene = Silenced(std::move(plan), grams);
    scene.Wait(silent);
    return scene.Told();
  };
  const std::string watch = "3:45 probe silent raised watch";
  CHECK(told_by(Pressed(), 2000, minutes{45} - Millis{1}) == Lines{});
  CHECK(told_by(Pressed(), 2000, minutes{45}) == Lines{watch});
  CHECK(told_by(Pressed(), 2000, hours{3} - Millis{1}) == Lines{watch});
  CHECK(told_by(Pressed(), 2000, hours{3}) == Lines{watch, "6:00 probe silent raised severity act"});
  CHECK(told_by(Pressed(), 300, minutes{90} - Millis{1}) == Lines{watch});
  CHECK(told_by(Pressed(), 300, minutes{90}) == Lines{watch, "4:30 probe silent raised severity act"});
  CHECK(told_by(Pressed(), 301, minutes{90}) == Lines{watch});
  // Of unknown weight: small if of a soft family, else not.
  CHECK(told_by(Bloomy(), 0, minutes{90}).size() == 2);
  CHECK(told_by(Pressed(), 0, minutes{90}).size() == 1);
  CHECK(told_by(Bloomy(), 1200, minutes{90}).size() == 1);
}

TEST_CASE("a silent probe in whose place another one tells the same air stays a watch, until that one is silent too") {
  constexpr ProbeId kTwin = 2;
  Scene scene;
  scene.Give(Scene::kFridge).Hang(Scene::kProbe, Scene::kFridge).Hang(kTwin, Scene::kFridge);
  scene.Lay(1, Scene::kFridge, Pressed(), 2000);
  scene.Temperature(12.5).Humidity(85).Temperature(12.4, kTwin).Humidity(85, kTwin).Run(hours{3}).Silent();
  const std::string watch = "3:45 probe silent raised watch";
  SECTION("nothing is unknown there") {
    CHECK(scene.Run(hours{9}).Told() == Lines{watch});
    CHECK(scene.View().state == CaveState::kInBand);
  }
  SECTION("the act comes when the other one falls silent too, and it did not wait for a morning") {
    scene.Run(hours{26} - minutes{5}).Silent(kTwin).Wait(hours{1});
    const Lines told = scene.Told();
    CHECK(told == Lines{watch, "28:58 probe silent raised severity act", "29:40 probe silent raised watch"});
    CHECK_FALSE(scene.decisions.back().alarm.waited);
  }
  SECTION("or when what it says leaves its band") {
    scene.Run(hours{4}).Temperature(15.5, kTwin).Run(hours{1});
    const Lines told = scene.Told();
    CHECK(std::ranges::count(told, "8:00 probe silent raised severity act") == 0);
    CHECK(std::ranges::any_of(told, [](const std::string& line) {
      return line.starts_with("7:") && line.ends_with("probe silent raised severity act");
    }));
  }
}

TEST_CASE("another thermometer does not stand in for the humidity that a silent probe told") {
  constexpr ProbeId kTwin = 2;
  Scene scene;
  scene.Give(Scene::kFridge).Hang(Scene::kProbe, Scene::kFridge).Hang(kTwin, Scene::kFridge);
  scene.Lay(1, Scene::kFridge, Pressed(), 2000);
  scene.Temperature(12.5).Humidity(85).Temperature(12.4, kTwin).Run(hours{3}).Silent();
  CHECK(scene.Run(hours{3}).Told() == Lines{"3:45 probe silent raised watch", "6:00 probe silent raised severity act"});
}

TEST_CASE("where nothing is asked of the air a silent probe is a hint at most") {
  const Lines hint{"3:45 probe silent raised hint"};
  SECTION("an empty cave") {
    Scene scene = Silenced(nullptr, 0);
    scene.Wait(days{1});
    CHECK(scene.Told() == hint);
    // A wheel is laid in, blind: now it matters, and for long enough already.
    scene.Lay(1, Scene::kFridge, Bloomy(), 250);
    CHECK(scene.Told() == Lines{"27:00 probe silent raised severity act"});
  }
  SECTION("drying wheels on a counter") {
    Scene scene = Silenced(PlanOf("drying", 0, {}, {}), 250);
    scene.Wait(days{1});
    CHECK(scene.Told() == hint);
  }
}

TEST_CASE("the alarm of a silent probe says since when and what was last heard") {
  Scene scene = Silenced(Pressed(), 2000);
  scene.Wait(hours{4});
  const Alarm alarm = scene.state.Alarms().front();
  CHECK(alarm.kind == AlarmKind::kProbeSilent);
  CHECK(alarm.probe == Scene::kProbe);
  CHECK(alarm.cave == Scene::kFridge);
  CHECK(alarm.since == scene.At(hours{3}));
  CHECK(alarm.raised == scene.At(hours{3} + minutes{45}));
  CHECK(alarm.value == 12.5);
  CHECK(alarm.wheels == std::vector<WheelId>{1});
}

TEST_CASE("a silence that is over says how warm it was before and is now, and how warm the wheels can have become") {
  Scene scene = Silenced(Pressed(), 2000);
  scene.Wait(hours{2});
  scene.decisions.clear();
  scene.Temperature(16).Run(minutes{2});
  REQUIRE(scene.decisions.size() == 1);
  const Alarm alarm = scene.decisions[0].alarm;
  CHECK(alarm.before == 12.5);
  CHECK(alarm.extreme == 16);
  REQUIRE(alarm.warmest);
  CHECK(*alarm.warmest > 12.5);
  CHECK(*alarm.warmest < 15);
}

TEST_CASE("a silence that was told teaches no channel of its probe that it is usual") {
  Scene scene;
  scene.Give(Scene::kFridge).Give(Scene::kBox, Scene::kFridge).Hang(Scene::kProbe, Scene::kFridge).Hang(2, Scene::kBox);
  scene.Lay(1, Scene::kFridge, Pressed(), 2000).Temperature(12.5).Humidity(89);
  scene.Temperature(12.4, 2).Humidity(90, 2).Run(days{3});
  scene.Silent().Run(hours{5});
  scene.Temperature(12.5).Humidity(89).Run(days{1});
  scene.Told();
  // The power goes: seen within minutes, as ever. And again, after what it taught.
  for (int cut = 0; cut < 2; ++cut) {
    const Millis gone = scene.Since();
    scene.Silent().Silent(2).Run(hours{2});
    REQUIRE(!scene.decisions.empty());
    CHECK(scene.decisions.front().alarm.kind == AlarmKind::kPowerGone);
    CHECK(scene.decisions.front().at - scene.At(gone) <= minutes{5});
    // The box speaks again a while after the fridge.
    scene.Temperature(12.5).Humidity(89).Run(minutes{20});
    scene.Temperature(12.4, 2).Humidity(90, 2).Run(days{1});
    scene.Told();
  }
}

TEST_CASE("where another probe spoke of the same air a silence leaves nothing to reckon") {
  Scene scene;
  scene.Give(Scene::kFridge).Hang(Scene::kProbe, Scene::kFridge).Hang(2, Scene::kFridge);
  scene.Lay(1, Scene::kFridge, Pressed(), 2000).Temperature(12.5).Humidity(89);
  scene.Temperature(12.5, 2).Humidity(89, 2).Run(hours{3}).Silent().Run(hours{2});
  scene.decisions.clear();
  scene.Temperature(12.5).Humidity(89).Run(minutes{2});
  REQUIRE(scene.decisions.size() == 1);
  CHECK_FALSE(scene.decisions[0].alarm.warmest);
}

TEST_CASE("it is over with the first live reading, and the rules of the air rest for a window") {
  Scene scene = Silenced(Pressed(), 2000);
  scene.Wait(hours{2});
  CHECK(scene.Told().size() == 1);
  scene.Temperature(17).Humidity(85).Run(minutes{1});
  CHECK(scene.Told() == Lines{"5:01 probe silent over"});
  CHECK(scene.View().temperature.settling);
  CHECK(scene.View().temperature.mean == 17.0);
  // The probe came back warm from the keeper's hand: half an hour of rest, then an hour's delay, which it does not
  // last.
  scene.Temperature([](Millis t) { return t < hours{5} + minutes{50} ? 17 : 12.5; }).Run(hours{4});
  CHECK(scene.Told() == Lines{});
  CHECK_FALSE(scene.View().temperature.settling);
}

TEST_CASE("while a probe is silent what rang for the air goes on, and is over only when the air was seen to be back") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(16).Humidity(85).Run(hours{2});
  CHECK(scene.Told() == Lines{"1:30 too warm raised watch"});
  scene.Silent().Wait(hours{5});
  scene.Told();
  scene.Temperature(12).Humidity(85).Run(hours{3});
  CHECK(scene.Told() == Lines{"7:01 probe silent over", "8:30 too warm over"});
}

TEST_CASE("a radio that drops out for some minutes now and then does not put the rules of the air to sleep") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(12.5).Humidity(85).Run(hours{3}).Temperature(17).Humidity(85);
  for (int i = 0; i < 8; ++i) {
    scene.Run(minutes{16}).Silent().Wait(minutes{6}).Temperature(17).Humidity(85);
  }
  const Lines told = scene.Told();
  REQUIRE_FALSE(told.empty());
  CHECK(told[0].find("too warm raised watch") != std::string::npos);
}

TEST_CASE("readings that are not live neither break a silence nor count") {
  Scene scene = Silenced(Pressed(), 2000);
  scene.Wait(minutes{40}).Say(11, 30, 0).Say(12, 10, With(0, Mark::kRepeat)).Wait(minutes{10});
  CHECK(scene.Told() == Lines{"3:45 probe silent raised watch"});
  CHECK(Unknown(scene));
  CHECK(scene.View().temperature.latest == 12.5);
}

TEST_CASE("what no air can be is a fault of the probe and not a word from it") {
  Scene scene = Silenced(Pressed(), 2000);
  for (const double degrees : {-127.0, 1e9, -1e12}) scene.Say(11, degrees);
  for (const double percent : {-1.0, 254.0}) scene.Say(12, percent);
  scene.Wait(minutes{45});
  CHECK(scene.Told() == Lines{"3:45 probe silent raised watch"});
}

TEST_CASE(
    "what a thermometer says before it has measured once ends no silence: its next word does, with the air it found") {
  Scene scene = Silenced(Pressed(), 2000);
  scene.Wait(hours{2});
  scene.decisions.clear();
  scene.Say(11, 85.0).Wait(minutes{1});
  CHECK(scene.decisions.empty());
  CHECK(scene.View().temperature.latest != 85.0);
  scene.Say(11, 13.5).Wait(minutes{1});
  REQUIRE(scene.decisions.size() == 1);
  CHECK(scene.decisions[0].change == Decision::Change::kOver);
  CHECK(scene.decisions[0].alarm.extreme == 13.5);
}

TEST_CASE("a probe is one: as long as one of its channels speaks it is not silent, but the other channel is unknown") {
  Scene scene = Silenced(Pressed(), 2000);
  scene.Temperature(12.5).Run(hours{2});
  CHECK(scene.Told() == Lines{});
  CHECK(scene.View().temperature.state == CaveState::kInBand);
  CHECK(scene.View().humidity.state == CaveState::kUnknown);
  CHECK(Unknown(scene));
}

TEST_CASE("a probe's pace is learned") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(12.5).Humidity(85);
  SECTION("every 20 minutes: unknown after 70, and told then, not before") {
    scene.Every(minutes{20}).Run(hours{6});
    CHECK(scene.View().state == CaveState::kInBand);
    scene.Silent().Wait(minutes{70} - Millis{1});
    CHECK_FALSE(Unknown(scene));
    CHECK(scene.Told() == Lines{});
    scene.Wait(Millis{1});
    CHECK(Unknown(scene));
    CHECK(scene.Told() == Lines{"7:10 probe silent raised watch"});
  }
  SECTION("every 10 seconds: unknown after a minute") {
    scene.Every(seconds{10}).Run(hours{1}).Silent().Wait(minutes{1} - Millis{1});
    CHECK_FALSE(Unknown(scene));
    scene.Wait(Millis{1});
    CHECK(Unknown(scene));
  }
  SECTION("every minute, for no more than a few minutes yet: five minutes are assumed") {
    scene.Run(minutes{8}).Silent().Wait(minutes{17} + seconds{29});
    CHECK_FALSE(Unknown(scene));
    scene.Wait(seconds{1});
    CHECK(Unknown(scene));
  }
  SECTION("a slower pace, set by the keeper, is understood after a few readings") {
    scene.Every(minutes{1}).Run(hours{1}).Every(minutes{15}).Run(hours{2});
    CHECK(scene.View().state == CaveState::kInBand);
    CHECK(scene.Told() == Lines{});
  }
}

TEST_CASE("a probe that is tried out with some messages in a row is not taken for a quick one") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(12.5).Humidity(85).Every(seconds{1}).Run(seconds{3}).Silent().Wait(minutes{17});
  CHECK(scene.View().state == CaveState::kInBand);
  SECTION("it goes on at its own pace") {
    scene.Temperature(12.5).Humidity(85).Every(minutes{5});
    for (int i = 0; i < 60; ++i) {
      scene.Run(minutes{5});
      CHECK(scene.View().state == CaveState::kInBand);
    }
  }
  SECTION("it does not") {
    scene.Wait(minutes{1});
    CHECK(Unknown(scene));
  }
}

// A clock that was ahead once and was set back: the engine's instants never go back, so what it heard then lies ahead.
TEST_CASE("what was heard at an instant that has not come yet does not make a cave known") {
  Scene scene = Silenced(Pressed(), 2000);
  CHECK(scene.View().state == CaveState::kInBand);
  Scene ahead = scene;
  ahead.Wait(hours{5}).Say(11, 12.5).Say(12, 85);
  CHECK(ahead.View().state == CaveState::kInBand);
  scene.state = ahead.state;
  CHECK(Unknown(scene));
  CHECK(scene.View().temperature.silent);
  CHECK_FALSE(scene.View().temperature.mean);
  // Nor does what is heard now, which the engine takes for later: what it decided is not decided again.
  scene.Temperature(12.5).Humidity(85).Run(hours{4});
  CHECK(Unknown(scene));
  CHECK(scene.state.View(Scene::kFridge, scene.At(hours{8} - minutes{2} - Millis{1})).state == CaveState::kUnknown);
  // Its time has come.
  scene.Run(hours{1} + minutes{1});
  CHECK(scene.View().state == CaveState::kInBand);
  scene.Run(hours{3});
  CHECK(scene.View().state == CaveState::kInBand);
}

TEST_CASE("a silent probe that is hung elsewhere or taken down is in the keeper's hand") {
  Scene scene = Silenced(Pressed(), 2000);
  scene.Wait(hours{1});
  CHECK(scene.Told().size() == 1);
  SECTION("elsewhere") {
    scene.Give(Scene::kRoom).Hang(Scene::kProbe, Scene::kRoom);
    CHECK(scene.Told() == Lines{"4:00 probe silent over"});
    scene.Wait(hours{1});
    CHECK(scene.Told() == Lines{"4:45 probe silent raised hint"});
    CHECK(scene.View().state == CaveState::kNotWatched);
  }
  SECTION("down") {
    scene.Hang(Scene::kProbe, std::nullopt).Wait(days{1});
    CHECK(scene.Told() == Lines{"4:00 probe silent over"});
    CHECK(scene.View().state == CaveState::kNotWatched);
  }
}

// ---- The daemon's own absence ----

TEST_CASE("a silence that grew while nobody watched is no silence of the probe") {
  Scene scene = Silenced(Pressed(), 250);
  const Instant left = scene.Now();
  const Instant last_word = *scene.View().temperature.latest_at;
  scene.Take(Stopped{}).Wait(hours{8});
  CHECK(scene.Told() == Lines{});
  CHECK_FALSE(NextDeadline(scene.state));
  scene.Take(Started{left});
  CHECK(scene.Told() == Lines{"11:00 unwatched raised hint"});
  CHECK(Unknown(scene));  // nobody knows, though nobody is to blame
  SECTION("it speaks") {
    scene.Temperature(12.5).Humidity(85).Run(minutes{1});
    CHECK(scene.View().state == CaveState::kInBand);
    scene.Run(hours{3});
    CHECK(scene.Told() == Lines{"11:02 unwatched over"});
  }
  SECTION("it does not: rung for by what was listened since the start, and told since its last word") {
    scene.Wait(hours{2});
    CHECK(scene.Told() == Lines{"11:45 probe silent raised watch", "12:30 probe silent raised severity act"});
    const auto alarms = scene.state.Alarms();
    const auto silent = std::ranges::find(alarms, AlarmKind::kProbeSilent, &Alarm::kind);
    REQUIRE(silent != alarms.end());
    CHECK(silent->since == last_word);
  }
}

TEST_CASE("a silence that was told before an absence goes on where it was") {
  Scene scene = Silenced(Pressed(), 2000);
  scene.Wait(hours{2});
  CHECK(scene.Told().size() == 1);
  scene.Take(Stopped{}).Wait(hours{8}).Take(Started{}).Wait(minutes{60} - Millis{1});
  CHECK(scene.Told() == Lines{});
  scene.Wait(Millis{1});
  CHECK(scene.Told() == Lines{"14:00 probe silent raised severity act"});
}

TEST_CASE("a silence counts only while somebody listens, however brief the absence") {
  Scene scene = Silenced(Pressed(), 2000);
  scene.Wait(minutes{40});
  scene.Take(Stopped{}).Wait(minutes{9}).Take(Started{});
  CHECK(scene.Told() == Lines{});
  scene.Wait(minutes{5});
  CHECK(scene.Told() == Lines{"3:54 probe silent raised watch"});
}

TEST_CASE(
    "a watch that began anew tells of no power cut before it has listened for as long as it takes to miss a word") {
  const minutes away = GENERATE(minutes{4}, minutes{9}, minutes{20});
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
  scene.Hang(2, Scene::kFridge).Temperature(12.5).Humidity(89).Temperature(12.6, 2).Humidity(88, 2).Run(hours{3});
  scene.Take(Stopped{}).Wait(away).Take(Started{});
  scene.Told();
  SECTION("they spoke all the time") {
    scene.Run(minutes{30});
    const Lines told = scene.Told();
    CHECK(std::ranges::none_of(told,
                               [](const std::string& line) { return line.find("power gone") != std::string::npos; }));
  }
  SECTION("they fell silent meanwhile") {
    scene.Silent(1).Silent(2).Wait(minutes{2});
    CHECK(scene.Told().empty());
    scene.Wait(minutes{10});
    const Lines told = scene.Told();
    REQUIRE(told.size() == 1);
    CHECK(told[0].find("power gone raised act") != std::string::npos);
  }
}

TEST_CASE("after a crash the start says until when somebody watched") {
  Scene scene = Silenced(Pressed(), 2000);
  Scene crashed = scene;
  // Nothing was written down at the end, and nobody woke the engine at 3:45, though the daemon was there until 3:50.
  crashed.Wait(Millis{0});
  Scene woken = crashed;
  const auto decisions = Step(crashed.state, Started{crashed.At(hours{3} + minutes{50})}, crashed.At(hours{12}));
  REQUIRE(decisions.size() == 1);
  CHECK(decisions[0].at == crashed.At(hours{3} + minutes{45}));
  CHECK_FALSE(decisions[0].alarm.found_later);
  // Had it been there until 3:40 only, nothing would be known.
  CHECK(Step(woken.state, Started{woken.At(hours{3} + minutes{40})}, woken.At(hours{12})).empty());
}

TEST_CASE("facts that are entered while the daemon is down are taken in and judge nobody's silence") {
  Scene scene = Silenced(nullptr, 0);
  scene.Take(Stopped{}).Wait(hours{2}).Lay(1, Scene::kFridge, Pressed(), 2000).Wait(minutes{5}).Take(Started{});
  CHECK(scene.Told() == Lines{"5:05 unwatched raised hint"});
  CHECK(scene.View().temperature.band);
  scene.Wait(minutes{45});
  CHECK(scene.Told() == Lines{"5:50 probe silent raised watch"});
}

}  // namespace rindwatch::rules
