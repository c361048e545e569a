// One event in a cave is one alarm, and what belongs to it is quiet meanwhile. Invented.
#include "rules/alarms/one_event.hpp"

#include <algorithm>
#include <cmath>

#include "tests/catch.hpp"
#include "tests/rules/alarms/scene.hpp"

namespace rindwatch::rules {
namespace {

double Minutes(Millis since) { return static_cast<double>(since / minutes{1}); }

double Saw(Millis since) {
  const double within = std::fmod(Minutes(since), 30);
  return within < 8 ? 12.9 - 0.1 * within : 12.1 + 0.8 * (within - 8) / 22;
}

double Lively(Millis since) { return 85 + 0.3 * std::sin(Minutes(since) / 7) + 0.1 * std::sin(Minutes(since)); }

Scene Fridge() {
  Scene scene;
  scene.own.clear();
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(Saw).Humidity(Lively);
  scene.Run(days{6});
  CHECK(scene.Told().empty());
  return scene;
}

bool Raised(const Scene& scene, AlarmKind kind) {
  return std::ranges::any_of(scene.decisions, [kind](const Decision& decision) {
    return decision.alarm.kind == kind && decision.change == Decision::Change::kRaised;
  });
}

// From `from` on the plant is dead, and the rinds damp the air.
Scene& Die(Scene& scene) {
  const Millis dead = scene.Since();
  scene.Temperature([dead](Millis since) { return 24 - 11.6 * std::exp(-Minutes(since - dead) / 400); });
  scene.Humidity([dead](Millis since) { return Lively(since) + 13 * (1 - std::exp(-Minutes(since - dead) / 90)); });
  return scene;
}

// Its door stands open behind a round for forty minutes: the air warms by so much, with this time constant in minutes.
Scene LeftOpen(double by, double constant) {
  Scene scene = Fridge();
  const Millis tick = scene.Since();
  scene.Take(KeeperTended{Scene::kFridge});
  scene.Temperature([=](Millis since) {
    return 12.8 + by * (1 - std::exp(-Minutes(since - tick) / constant)) + 0.1 * std::sin(Minutes(since));
  });
  scene.Run(minutes{40});
  return scene;
}

}  // namespace

TEST_CASE("a plant without cold is one alarm: warm, damp, wet rinds and a plant that does not keep up") {
  Scene scene = Fridge();
  Die(scene).Run(hours{30});
  std::vector<AlarmKind> sound;
  for (const Decision& decision : scene.decisions) {
    if (decision.change == Decision::Change::kRaised && decision.alarm.severity >= Severity::kAct)
      sound.push_back(decision.alarm.kind);
  }
  CHECK(sound == std::vector{AlarmKind::kTooWarm});
  // What had been told before it is quiet by design as long as it stands.
  int bells = 0;
  for (const Alarm& alarm : scene.state.Alarms()) bells += alarm.Rings();
  CHECK(bells == 1);
}

TEST_CASE("what outlasts the warmth is told when that is over") {
  Scene scene = Fridge();
  Die(scene).Run(hours{12});
  scene.Temperature(Saw).Humidity([](Millis since) { return Lively(since) + 12; });
  scene.Run(hours{30});
  const auto over = std::ranges::find_if(scene.decisions, [](const Decision& decision) {
    return decision.alarm.kind == AlarmKind::kTooWarm && decision.change == Decision::Change::kOver;
  });
  REQUIRE(over != scene.decisions.end());
  const auto damp = std::ranges::find_if(scene.decisions, [&](const Decision& decision) {
    return decision.alarm.kind == AlarmKind::kTooDamp && decision.at >= over->at;
  });
  REQUIRE(damp != scene.decisions.end());
  CHECK(damp->alarm.severity >= Severity::kWatch);
}

TEST_CASE("a watch of the warmth alone quiets nothing") {
  Scene scene = Fridge();
  scene.Temperature([](Millis since) { return Saw(since) + 2.6; });
  scene.Humidity([](Millis since) { return Lively(since) - 20; });
  scene.Take(CaveGiven{Scene::kFridge,
                       {},
                       DayTurn{},
                       {},
                       {},
                       {{"excursion: turns within at least", 480},
                        {"excursion: lasts at least", 720},
                        {"too warm: act after, harder", 2880},
                        {"too warm: dose of the wheel, harder", 500},
                        {"wheel: beyond its limit by", 3}}});
  scene.Run(hours{5});
  CHECK(Raised(scene, AlarmKind::kTooWarm));
  CHECK(Raised(scene, AlarmKind::kTooDry));
}

TEST_CASE("a repaired plant is not called slow to cool on the day after") {
  Scene scene = Fridge();
  Die(scene).Run(hours{8});
  scene.Temperature(Saw).Humidity(Lively);
  scene.decisions.clear();
  scene.Run(days{3});
  CHECK(!Raised(scene, AlarmKind::kPlantWeak));
}

TEST_CASE("a door that is asked after and the warmth that it lets in are one alarm to take and to name") {
  Scene scene = LeftOpen(6, 30);
  REQUIRE(Raised(scene, AlarmKind::kDoorOpen));
  REQUIRE(!Raised(scene, AlarmKind::kTooWarm));
  scene.Run(hours{3});
  REQUIRE(Raised(scene, AlarmKind::kTooWarm));
  const Millis shut = scene.Since();
  scene.Temperature([shut](Millis since) { return Saw(since) + 6 * std::exp(-Minutes(since - shut) / 20); });
  scene.Run(hours{5});
  std::vector<Decision::Change> of_door;
  for (const Decision& decision : scene.decisions) {
    if (decision.alarm.kind != AlarmKind::kDoorOpen) continue;
    of_door.push_back(decision.change);
    CHECK(decision.alarm.Folded() == (decision.change != Decision::Change::kRaised));
  }
  CHECK(of_door == std::vector{Decision::Change::kRaised, Decision::Change::kQuieted, Decision::Change::kOver});
  // Nothing but the warmth waits to be seen.
  std::vector<AlarmKind> left;
  for (const Alarm& alarm : scene.state.Alarms()) left.push_back(alarm.kind);
  CHECK(left == std::vector{AlarmKind::kTooWarm});
}

TEST_CASE("a question that was set aside does not come back while the warmth itself rings") {
  Scene scene = LeftOpen(6, 30);
  const auto alarms = scene.state.Alarms();
  REQUIRE(alarms.size() == 1);
  REQUIRE(alarms[0].kind == AlarmKind::kDoorOpen);
  scene.Take(AlarmSetAside{alarms[0].id, scene.Now() + hours{5}});
  scene.Run(hours{4});
  REQUIRE(Raised(scene, AlarmKind::kTooWarm));
  scene.Run(hours{2});
  for (const Decision& decision : scene.decisions) {
    if (decision.alarm.kind == AlarmKind::kDoorOpen) CHECK(decision.change != Decision::Change::kBack);
  }
  int bells = 0;
  for (const Alarm& alarm : scene.state.Alarms()) bells += alarm.Rings();
  CHECK(bells == 1);
}

TEST_CASE("a question after a door ends where nobody follows any more whether the air turns") {
  Scene scene = LeftOpen(3.5, 8);
  REQUIRE(Raised(scene, AlarmKind::kDoorOpen));
  CaveGiven given{Scene::kFridge, {}, DayTurn{}, {}, {}};
  given.ready_cheese = true;
  scene.Take(given).Run(minutes{5});
  CHECK(std::ranges::none_of(scene.state.Alarms(),
                             [](const Alarm& alarm) { return alarm.kind == AlarmKind::kDoorOpen && !alarm.over; }));
}

TEST_CASE("what a warmth that rang while a keeper was there tells of stays quiet when the keeper is out") {
  Scene scene = Fridge();
  scene.Humidity([](Millis since) { return Lively(since) - 9; }).Run(hours{8});
  REQUIRE(Raised(scene, AlarmKind::kTooDry));
  REQUIRE(scene.state.Alarms().front().severity == Severity::kWatch);
  const Millis warms = scene.Since();
  scene.Temperature([warms](Millis since) { return Saw(since) + 5 * (1 - std::exp(-Minutes(since - warms) / 15)); });
  scene.Run(minutes{155});
  REQUIRE(Raised(scene, AlarmKind::kTooWarm));
  scene.Take(KeeperHere{Scene::kFridge}).Run(minutes{59});
  scene.Take(KeeperOut{Scene::kFridge}).Run(hours{1});
  const auto alarms = scene.state.Alarms();
  const auto warm = std::ranges::find(alarms, AlarmKind::kTooWarm, &Alarm::kind);
  const auto dry = std::ranges::find(alarms, AlarmKind::kTooDry, &Alarm::kind);
  REQUIRE(warm != alarms.end());
  REQUIRE(dry != alarms.end());
  REQUIRE(warm->severity >= Severity::kAct);
  CHECK(dry->told_by == warm->id);
  CHECK_FALSE(dry->Rings());
  CHECK_FALSE(dry->Untaken());
}

TEST_CASE("a fridge and the box in it are one bell, however warm, and the box has its own once the fridge is over") {
  Scene scene = Fridge();
  scene.Give(Scene::kBox, Scene::kFridge).Lay(2, Scene::kBox, Bloomy(), 250).Hang(2, Scene::kBox);
  scene.Temperature(Saw, 2).Humidity([](Millis since) { return Lively(since) + 7; }, 2).Run(days{1});
  const Millis dead = scene.Since();
  const auto warms = [dead](double above) {
    return [dead, above](Millis since) {
      return 24 + above - (11.6 + above) * std::exp(-Minutes(since - dead) / 120) + 0.05 * std::sin(Minutes(since));
    };
  };
  scene.Temperature(warms(0)).Temperature(warms(0.5), 2).Run(hours{8});
  const auto bells = [&] {
    std::vector<CaveId> caves;
    for (const Alarm& alarm : scene.state.Alarms()) {
      if (alarm.Rings()) caves.push_back(alarm.cave);
    }
    return caves;
  };
  REQUIRE(scene.state.Alarms().front().severity == Severity::kUrgent);
  CHECK(bells() == std::vector<CaveId>{Scene::kFridge});
  // The fridge is cold again and the box stays warm: its lid is shut, say, over warm goods.
  scene.Temperature(Saw).Run(hours{6});
  CHECK(bells() == std::vector<CaveId>{Scene::kBox});
}

TEST_CASE("dry air that was told and is over is not told again by the mean of half a day that holds it") {
  Scene scene = Fridge();
  const Millis dries = scene.Since();
  scene.Humidity([dries](Millis since) { return Lively(since) - (Minutes(since - dries) < 6 * 60 ? 16 : 0); });
  scene.Run(hours{30});
  int raised = 0;
  for (const Decision& decision : scene.decisions) {
    raised += decision.alarm.kind == AlarmKind::kTooDry && decision.change == Decision::Change::kRaised;
  }
  CHECK(raised == 1);
}

TEST_CASE("the record of a warmth tells how far the wheels came themselves") {
  Scene scene = Fridge();
  Die(scene).Run(hours{8});
  CHECK(scene.View().temperature.trend == 1);
  const Millis mended = scene.Since();
  scene.Temperature([mended](Millis since) { return Saw(since) + 8 * std::exp(-Minutes(since - mended) / 90); });
  scene.Run(hours{1});
  CHECK(scene.View().temperature.trend == -1);
  scene.Run(hours{24});
  CHECK(scene.View().temperature.trend == 0);
  const auto over = std::ranges::find_if(scene.decisions, [](const Decision& decision) {
    return decision.alarm.kind == AlarmKind::kTooWarm && decision.change == Decision::Change::kOver;
  });
  REQUIRE(over != scene.decisions.end());
  REQUIRE(over->alarm.own.size() == 1);
  CHECK(over->alarm.own[0].wheels == std::vector<WheelId>{1});
  // Two kilograms lag behind their air, and leave their band all the same.
  CHECK(over->alarm.own[0].value > 14.5);
  CHECK(over->alarm.own[0].value < over->alarm.extreme - 0.3);
}

TEST_CASE("what the means of a day hold of a warmth that is over is no news: a door that stood open is told once") {
  Scene scene = Fridge();
  // The door stands ajar for four hours: warm enough for the mean of the day to be up by a degree, and shut again.
  const Millis opens = scene.Since();
  scene.Temperature([opens](Millis since) {
    const double open = Minutes(since - opens);
    const double warm = open < 240 ? 8 * (1 - std::exp(-open / 60)) : 8 * std::exp(-(open - 240) / 45);
    return Saw(since) + warm;
  });
  scene.Run(days{2});
  CHECK(Raised(scene, AlarmKind::kTooWarm));
  CHECK(!Raised(scene, AlarmKind::kPlantWeak));
  scene.Run(days{2});
  CHECK(!Raised(scene, AlarmKind::kPlantWeak));
}

TEST_CASE("nor where a door had warmed the day before the failure") {
  Scene scene = Fridge();
  // Air may take its time here, so that a failure warms half a day before it rings.
  scene.Take(CaveGiven{Scene::kFridge,
                       {},
                       DayTurn{},
                       {},
                       {},
                       {{"excursion: turns within at least", 480},
                        {"excursion: lasts at least", 720},
                        {"plant: mean of a day up by", 0.2}}});
  const auto opened = [](double minute, double lasts, double by, double falls) {
    if (minute < 0) return 0.0;
    return minute < lasts ? by * minute / lasts : by * std::exp(-(minute - lasts) / falls);
  };
  const Millis first = scene.Since();
  scene.Temperature([=](Millis since) {
    const double gone = Minutes(since - first);
    return Saw(since) + opened(gone, 60, 2.4, 100) + opened(gone - 24 * 60, 360, 7, 45);
  });
  scene.Run(days{4});
  CHECK(std::ranges::count_if(scene.decisions, [](const Decision& decision) {
          return decision.alarm.severity >= Severity::kAct && decision.change == Decision::Change::kOver;
        }) == 1);
  CHECK(!Raised(scene, AlarmKind::kPlantWeak));
}

TEST_CASE("a plant that does not keep up, told before the warmth came, asks nothing anew when that is over") {
  for (const bool mended : {true, false}) {
    CAPTURE(mended);
    Scene scene = Fridge();
    // A thermostat that has drifted: the mean of the day is up.
    const Scene::Course drifted = [](Millis since) { return Saw(since) + 1.2; };
    scene.Temperature(drifted).Run(days{2});
    REQUIRE(Raised(scene, AlarmKind::kPlantWeak));
    const Millis opens = scene.Since();
    const Scene::Course after = mended ? Scene::Course(Saw) : drifted;
    scene.Temperature([opens, drifted, after](Millis since) {
      const double open = Minutes(since - opens);
      return open < 240 ? drifted(since) + 8 * (1 - std::exp(-open / 60))
                        : after(since) + 8 * std::exp(-(open - 240) / 45);
    });
    scene.decisions.clear();
    scene.Run(days{3});
    std::vector<Decision::Change> told;
    for (const Decision& decision : scene.decisions) {
      if (decision.alarm.kind == AlarmKind::kPlantWeak) told.push_back(decision.change);
    }
    using enum Decision::Change;
    CHECK(told == (mended ? std::vector{kQuieted, kOver} : std::vector{kQuieted, kStays}));
  }
}

TEST_CASE("wheels that cool after a warmth that is over ring nothing anew when a defrost warms the air") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 5000).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(Saw).Humidity(Lively).Run(days{6});
  const Millis warm = scene.Since();
  scene.Temperature([warm](Millis since) {
    const double minute = Minutes(since - warm);
    if (minute < 480) return 22 - 9.5 * std::exp(-minute / 30);
    return Saw(since) + 9 * std::exp(-(minute - 480) / 10);
  });
  scene.Run(hours{10});
  REQUIRE(Raised(scene, AlarmKind::kTooWarm));
  const auto alarms = scene.state.Alarms();
  REQUIRE(std::ranges::all_of(
      alarms, [](const Alarm& alarm) { return alarm.kind != AlarmKind::kTooWarm || alarm.over.has_value(); }));
  const auto wheels = scene.View(Scene::kFridge).wheels;
  REQUIRE(wheels.front().core > 14.8);
  const Millis defrost = scene.Since();
  scene.decisions.clear();
  scene.Temperature([defrost](Millis since) {
    const double minute = Minutes(since - defrost);
    return Saw(since) + (minute < 15 ? 4 * minute / 15 : 4 * std::exp(-(minute - 15) / 8));
  });
  scene.Run(hours{2});
  CHECK(!Raised(scene, AlarmKind::kTooWarm));
}

TEST_CASE("a fridge that rings each day does not hide that its plant does not keep up") {
  Scene scene = Fridge();
  const Millis begins = scene.Since();
  scene.Temperature([begins](Millis since) {
    const double of_day = std::fmod(Minutes(since - begins), 1440);
    return Saw(since) + 1.2 + (of_day < 240 ? 8 * (1 - std::exp(-of_day / 60)) : 8 * std::exp(-(of_day - 240) / 45));
  });
  scene.Run(days{4});
  CHECK(std::ranges::count_if(scene.decisions, [](const Decision& decision) {
          return decision.alarm.kind == AlarmKind::kTooWarm && decision.change == Decision::Change::kOver;
        }) >= 3);
  CHECK(Raised(scene, AlarmKind::kPlantWeak));
}

TEST_CASE("air that falls back after it was too warm is not about to be too cold, nor is the box in it") {
  Scene scene;
  scene.Give(Scene::kFridge).Give(Scene::kBox, Scene::kFridge).Lay(1, Scene::kBox, Pressed(), 2000);
  scene.Hang(1, Scene::kFridge).Hang(2, Scene::kBox);
  for (const ProbeId probe : {1, 2}) scene.Temperature(12.5, probe).Humidity(85, probe);
  scene.Run(hours{3});
  for (const ProbeId probe : {1, 2}) scene.Temperature(19, probe);
  scene.Run(hours{4});
  REQUIRE(Raised(scene, AlarmKind::kTooWarm));
  const Millis mended = scene.Since();
  for (const ProbeId probe : {1, 2})
    scene.Temperature([mended](Millis since) { return 11 + 8 * std::exp(-Minutes(since - mended) / 25); }, probe);
  int standing = 0;
  for (int n = 0; n < 48; ++n) {
    scene.Run(minutes{5});
    const auto alarms = scene.state.Alarms();
    if (!std::ranges::any_of(alarms, [](const Alarm& a) { return a.kind == AlarmKind::kTooWarm && !a.over; })) continue;
    ++standing;
    CHECK(scene.View(Scene::kFridge).temperature.side >= 0);
    CHECK(scene.View(Scene::kBox).temperature.side >= 0);
  }
  CHECK(standing > 3);
}

TEST_CASE("a door ajar in dry winter air is told quietly, the same warmth without it loudly") {
  for (const bool door : {true, false}) {
    CAPTURE(door);
    Scene scene = Fridge();
    const Millis begins = scene.Since();
    // It comes to rest a little past the band, as a door half open does.
    scene.Temperature([begins](Millis since) {
      return 14.8 - 2 * std::exp(-Minutes(since - begins) / 20) + 0.02 * std::sin(Minutes(since));
    });
    if (door) {
      scene.Humidity([begins](Millis since) { return 68 + 17 * std::exp(-Minutes(since - begins) / 8); });
    }
    scene.Run(hours{1} + minutes{10});
    const auto loudest =
        std::ranges::max_element(scene.decisions, {}, [](const Decision& decision) { return decision.alarm.severity; });
    REQUIRE(loudest != scene.decisions.end());
    CHECK(loudest->alarm.kind == AlarmKind::kTooWarm);
    CHECK(loudest->alarm.severity == (door ? Severity::kWatch : Severity::kAct));
  }
}

TEST_CASE("any rind is young in its first two weeks: what cracks is told after two hours") {
  for (const int age : {5, 30}) {
    CAPTURE(age);
    Scene scene;
    scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000, age).Hang(Scene::kProbe, Scene::kFridge);
    scene.Temperature(12.5).Humidity(85).Run(hours{3});
    scene.Humidity(70).Run(hours{4});
    const auto act = std::ranges::find_if(
        scene.decisions, [](const Decision& decision) { return decision.alarm.severity == Severity::kAct; });
    CHECK((act != scene.decisions.end()) == (age == 5));
  }
}

TEST_CASE("a box has no plant: that its air has become warmer is told for the fridge around it") {
  Scene scene;
  scene.own.clear();
  scene.Give(Scene::kFridge).Give(Scene::kBox, Scene::kFridge);
  scene.Lay(1, Scene::kBox, Pressed(), 2000).Hang(1, Scene::kFridge).Hang(2, Scene::kBox);
  scene.Temperature(Saw, 1).Humidity(Lively, 1).Temperature(Saw, 2).Humidity(Lively, 2).Run(days{8});
  scene.decisions.clear();
  const Scene::Course warmer = [](Millis since) { return Saw(since) + 0.6; };
  scene.Temperature(warmer, 1).Temperature(warmer, 2).Run(days{2});
  std::vector<CaveId> weak;
  for (const Decision& decision : scene.decisions) {
    if (decision.alarm.kind == AlarmKind::kPlantWeak && decision.change == Decision::Change::kRaised)
      weak.push_back(decision.alarm.cave);
  }
  CHECK(weak == std::vector<CaveId>{Scene::kFridge});
}

// ---- silence ----

namespace {

// A probe that reports only changes: each minute by day, each 50 minutes in the calm of the night.
Scene& LivesByChange(Scene& scene, int days_long) {
  for (int day = 0; day < days_long; ++day) {
    for (int spoken = 0; spoken < 6; ++spoken) {
      for (const int gap : {1, 2, 1, 4, 1, 3, 1, 7}) {
        scene.Wait(minutes{gap});
        scene.Say(11, 12.5 + 0.1 * (spoken % 3));
      }
    }
    Millis left = hours{22};
    while (left >= minutes{50}) {
      scene.Wait(minutes{50});
      scene.Say(11, 12.5 + 0.1 * static_cast<double>(left / minutes{50} % 3));
      left -= minutes{50};
    }
  }
  return scene;
}

}  // namespace

TEST_CASE("the silence of a probe that reports only changes counts from its longest usual gap") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
  LivesByChange(scene, 5);
  scene.decisions.clear();
  // A busy hour, so that its last gaps are short; then it is calm for as long as it usually is.
  for (int spoken = 0; spoken < 40; ++spoken) {
    scene.Wait(minutes{1 + spoken % 3 * 2});
    scene.Say(11, 12.5 + 0.1 * (spoken % 3));
  }
  scene.Wait(minutes{55});
  CHECK(scene.Told().empty());
  CHECK(scene.View().temperature.state == CaveState::kInBand);
  scene.Wait(minutes{60});
  const Lines told = scene.Told();
  REQUIRE(!told.empty());
  CHECK(told.front().find("probe silent raised watch") != std::string::npos);
}

TEST_CASE("an outage that was told is no usual gap: the next one is told as soon") {
  Scene scene = Fridge();
  scene.Hang(2, Scene::kFridge).Temperature(Saw, 2).Humidity(Lively, 2).Run(hours{12});
  const auto told_after = [&] {
    const Millis from = scene.Since();
    scene.decisions.clear();
    scene.Silent(2).Run(hours{5});
    const auto rang = std::ranges::find_if(scene.decisions, [](const Decision& decision) {
      return decision.alarm.kind == AlarmKind::kProbeSilent && decision.change == Decision::Change::kRaised;
    });
    REQUIRE(rang != scene.decisions.end());
    const Millis after = rang->at - scene.At(from);
    scene.Temperature(Saw, 2).Humidity(Lively, 2).Run(hours{19});
    return after;
  };
  const Millis first = told_after();
  CHECK(told_after() == first);
  CHECK(told_after() == first);
}

TEST_CASE("a probe with a pace that loses a message now and then is missed by its pace") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
  for (int day = 0; day < 4; ++day) {
    scene.Temperature([](Millis since) { return Saw(since); }).Run(hours{23});
    scene.Silent().Wait(minutes{35});
  }
  scene.Temperature(Saw).Run(hours{1});
  scene.decisions.clear();
  scene.Silent().Wait(minutes{4});
  CHECK(scene.View().temperature.state == CaveState::kUnknown);
}

}  // namespace rindwatch::rules
