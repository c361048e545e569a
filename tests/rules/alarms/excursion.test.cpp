// Warm air that leaves its usual: what comes back in its own time is no alarm, what goes on at a dead plant's pace is
// one before the band is left. Invented.
#include "rules/alarms/excursion.hpp"

#include <algorithm>
#include <cmath>

#include "tests/catch.hpp"
#include "tests/rules/alarms/scene.hpp"

namespace rindwatch::rules {
namespace {

double Minutes(Millis since) { return static_cast<double>(since / minutes{1}); }

// A plant's saw: 12.1 to 12.9 in half an hour.
double Saw(Millis since) {
  const double within = std::fmod(Minutes(since), 30);
  return within < 8 ? 12.9 - 0.1 * within : 12.1 + 0.8 * (within - 8) / 22;
}

// Its band ends at 14.5; it has been learned.
Scene LearnedFridge() {
  Scene scene;
  scene.own.clear();
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(Saw).Humidity([](Millis since) { return 85 + 0.3 * std::sin(Minutes(since) / 7); });
  scene.Run(days{6});
  CHECK(scene.Told().empty());
  return scene;
}

// From now on the air is so many degrees warm after so many minutes.
Scene& From(Scene& scene, std::function<double(double)> degrees) {
  const Millis begins = scene.Since();
  return scene.Temperature([begins, degrees = std::move(degrees)](Millis since) {
    return degrees(Minutes(since - begins)) + 0.02 * std::sin(Minutes(since));
  });
}

const Decision* FirstAct(const Scene& scene) {
  const auto found = std::ranges::find_if(
      scene.decisions, [](const Decision& decision) { return decision.alarm.severity >= Severity::kAct; });
  return found == scene.decisions.end() ? nullptr : &*found;
}

// Open for 45 minutes, then shut: the air falls to `rests`.
std::function<double(double)> DoorOf45Minutes(double rests) {
  return [rests](double after) {
    const double most = 12.9 + 0.12 * 45;
    return after < 45 ? 12.9 + 0.12 * after : rests + (most - rests) * std::exp(-(after - 45) / 20);
  };
}

// Its door is left ajar for an hour and a half every other day, three times: warmer at once, and drier, while the plant
// runs on against it. The air stays inside its band.
Scene HouseOfDoors() {
  Scene scene = LearnedFridge();
  const Millis first = scene.Since();
  const auto ajar = [first](Millis since) {
    const double after = std::fmod(Minutes(since - first), 48 * 60);
    return after < 90 ? 1 - std::exp(-after / 4) : std::exp(-(after - 90) / 15);
  };
  scene.Temperature([ajar](Millis since) { return ajar(since) > 0.01 ? 12.7 + 1.2 * ajar(since) : Saw(since); });
  scene.Humidity([ajar](Millis since) { return 85 + 0.3 * std::sin(Minutes(since) / 7) - 6 * ajar(since); });
  scene.Run(days{6});
  CHECK_FALSE(FirstAct(scene));
  scene.decisions.clear();
  return scene;
}

}  // namespace

TEST_CASE("air that rises at a dead plant's pace is told before it has left the band") {
  Scene scene = LearnedFridge();
  const Instant begins = scene.Now();
  From(scene, [](double after) { return 12.9 + 0.02 * after; }).Run(hours{2});
  const Decision* const act = FirstAct(scene);
  REQUIRE(act);
  CHECK(act->alarm.why == Why::kNotTurning);
  CHECK(act->alarm.value < 14.5);
  CHECK(act->at - begins < minutes{70});
  SECTION("and only once it is out where the keeper wants it so") {
    Scene patient = LearnedFridge();
    patient.Take(
        CaveGiven{Scene::kFridge, {}, DayTurn{}, {}, {}, {{"excursion: at its pace leaves the band within", 0}}});
    From(patient, [](double after) { return 12.9 + 0.02 * after; }).Run(hours{2});
    const Decision* const later = FirstAct(patient);
    REQUIRE(later);
    CHECK(later->at - act->at >= minutes{15});
  }
}

TEST_CASE("a defrost on top of air that has come to stay is no failure") {
  Scene scene = LearnedFridge();
  // A thermostat drifts by a degree in five hours. A small defrost lifts the mean over the edge only on its way back, a
  // large one while it rises.
  const double most = GENERATE(1.6, 2.6);
  From(scene, [most](double after) {
    const double drift = std::min(1.0, after / 300), since = after - 600;
    const double up = since < 0 ? 0 : since < 15 ? since / 15 : std::max(0.0, 1 - (since - 15) / 12);
    return 12.9 + drift + 0.2 * std::sin(after / 5) + most * up;
  });
  scene.Run(hours{12});
  CHECK(!scene.decisions.empty());  // the plant: a quiet word
  CHECK_FALSE(FirstAct(scene));
}

TEST_CASE("how long doors stand open here gives a plant that fails no longer time") {
  Scene scene = HouseOfDoors();
  const Instant begins = scene.Now();
  From(scene, [](double after) { return 12.9 + 0.02 * after; });
  scene.Humidity([](Millis since) { return 85 + 0.3 * std::sin(Minutes(since) / 7); }).Run(hours{3});
  const Decision* const act = FirstAct(scene);
  REQUIRE(act);
  CHECK(act->at - begins < minutes{70});
}

TEST_CASE("nor a door that stands wide open, and lets the air come far") {
  Scene scene = HouseOfDoors();
  const Instant begins = scene.Now();
  const Millis opened = scene.Since();
  From(scene, [](double after) { return 12.9 + 8 * (1 - std::exp(-after / 15)); });
  scene.Humidity([opened](Millis since) { return 85 - 12 * (1 - std::exp(-Minutes(since - opened) / 15)); });
  scene.Run(hours{2});
  REQUIRE_FALSE(scene.decisions.empty());
  CHECK(scene.decisions.front().alarm.kind == AlarmKind::kTooWarm);
  CHECK(scene.decisions.front().at - begins < minutes{50});
}

TEST_CASE(
    "air that comes at once and grows damper is no door: a plant that failed with a defrost is told by its pace") {
  const auto loudest = [](double damper) {
    Scene scene = LearnedFridge();
    const Millis begun = scene.Since();
    From(scene, [](double after) { return 12.9 + std::min(1.2, 0.24 * after) + 0.012 * after; });
    scene.Humidity([=](Millis since) {
      return 85 + damper * std::min(1.0, Minutes(since - begun) / 30) + 0.3 * std::sin(Minutes(since) / 7);
    });
    scene.Run(hours{1});
    return FirstAct(scene) != nullptr;
  };
  CHECK(loudest(7));
  CHECK_FALSE(loudest(0));
}

TEST_CASE("warmth that comes to rest inside the band is no failure, however long it stays") {
  Scene scene = LearnedFridge();
  From(scene, [](double after) { return 12.9 + 1.1 * (1 - std::exp(-after / 25)); }).Run(hours{5});
  CHECK_FALSE(FirstAct(scene));
}

TEST_CASE("warm air that goes up and down inside the band sounds for no top of it while no wheel comes near its end") {
  Scene scene = LearnedFridge();
  // A thermostat that switches warmer; each four hours a defrost, whose top lies beyond 14.5 for some minutes.
  From(scene, [](double after) {
    const double since_defrost = std::fmod(after, 240);
    const double top = since_defrost < 25 ? since_defrost / 25 : std::exp(-(since_defrost - 25) / 12);
    return 13.5 + 0.4 * std::sin(after / 5) + (after < 240 ? 0 : 1.4 * top);
  });
  scene.Run(hours{30});
  CHECK_FALSE(FirstAct(scene));
  // The mean of the day tells it, quietly.
  REQUIRE_FALSE(scene.decisions.empty());
  CHECK(scene.decisions.front().alarm.kind == AlarmKind::kPlantWeak);
}

TEST_CASE("air that falls back after a door was shut is no alarm, though it is out for longer than ever") {
  Scene scene = LearnedFridge();
  // It may rise for an hour, so that only how long it lasts is asked.
  scene.Take(CaveGiven{Scene::kFridge, {}, DayTurn{}, {}, {}, {{"excursion: turns within at least", 60}}});
  const auto by_turning = [](const Decision& decision) { return decision.alarm.why == Why::kNotTurning; };
  SECTION("on its way back nothing rings") {
    From(scene, DoorOf45Minutes(12.5)).Run(hours{3});
    CHECK_FALSE(FirstAct(scene));
    CHECK(std::ranges::none_of(scene.decisions, by_turning));
  }
  SECTION("it stops short of the band: it rings") {
    From(scene, DoorOf45Minutes(15.2)).Run(hours{3});
    const auto told = std::ranges::find_if(scene.decisions, by_turning);
    REQUIRE(told != scene.decisions.end());
    CHECK(told->alarm.severity == Severity::kAct);
  }
}

namespace {

// What was told of too warm, by its change: "raised", "over".
std::vector<const Decision*> ToldWarm(const Scene& scene, Decision::Change change) {
  std::vector<const Decision*> told;
  for (const Decision& decision : scene.decisions) {
    if (decision.alarm.kind == AlarmKind::kTooWarm && decision.change == change) told.push_back(&decision);
  }
  return told;
}

}  // namespace

TEST_CASE("a failure that pauses on its way is one alarm until the air is on its way back") {
  Scene scene = LearnedFridge();
  // It nearly leaves the band, rests below it for hours as a coil does that thaws a little, and goes on.
  From(scene, [](double after) { return 12.9 + 0.02 * std::min(after, 60.0) + 0.006 * std::max(0.0, after - 500); });
  scene.Run(hours{8});
  REQUIRE(ToldWarm(scene, Decision::Change::kRaised).size() == 1);
  CHECK(ToldWarm(scene, Decision::Change::kOver).empty());
  scene.Run(hours{3});
  CHECK(ToldWarm(scene, Decision::Change::kRaised).size() == 1);
  From(scene, [](double after) { return 12.5 + 2.5 * std::exp(-after / 30); }).Run(hours{4});
  CHECK(ToldWarm(scene, Decision::Change::kRaised).size() == 1);
  CHECK(ToldWarm(scene, Decision::Change::kOver).size() == 1);
}

TEST_CASE("what rises again after a failure that came back is told since then, and rest inside the band is not") {
  Scene scene = LearnedFridge();
  From(scene, [](double after) { return std::min(17.0, 12.9 + 0.02 * after); }).Run(hours{5});
  REQUIRE(ToldWarm(scene, Decision::Change::kRaised).size() == 1);
  // The plant runs again; the air stays half a kelvin above its usual.
  From(scene, [](double after) { return 13.5 + 3.5 * std::exp(-after / 30); }).Run(hours{9});
  CHECK(ToldWarm(scene, Decision::Change::kRaised).size() == 1);
  CHECK(ToldWarm(scene, Decision::Change::kOver).size() == 1);
  const Instant door = scene.Now();
  From(scene, [](double after) { return std::min(18.0, 13.5 + 0.06 * after); }).Run(hours{2});
  const auto raised = ToldWarm(scene, Decision::Change::kRaised);
  REQUIRE(raised.size() == 2);
  CHECK(raised[1]->alarm.since >= door - minutes{30});
}

TEST_CASE("an excursion that was told teaches only a part of how long it took to turn") {
  const Settings settings = SettingsWith({});
  const auto patience_after = [&](bool told) {
    watch::Excursion excursion;
    Instant at = FromMillis(0) + days{100};
    const Instant begun = at - days{10};
    const auto take = [&](double beyond) { return excursion.Take(settings, beyond, {}, at += minutes{1}); };
    take(0);
    for (int minute = 0; minute < 120; ++minute) {
      take(2 + 0.01 * minute);
      if (told && minute == 60) excursion.Tell(Severity::kWatch, 2.6);
    }
    std::optional<watch::Excursion::Course> ended;
    while (!ended) ended = take(0);
    CHECK(ended->told == told);
    excursion.Learn(settings, *ended, at);
    // And now one that does not turn.
    const Instant opens = at;
    do take(2 + 0.01 * static_cast<double>((at - opens) / minutes{1}));
    while (!excursion.IsTooLong(settings, settings.excursion_turn_floor, begun, at));
    return (at - opens) / minutes{1};
  };
  const auto learned = patience_after(false), told = patience_after(true);
  CAPTURE(learned, told);
  CHECK(learned > 120);
  CHECK(told <= 60);
}

TEST_CASE("what makes a door, and for how long nothing is learned, are limits of the cave") {
  // A door of two hours with air that is drier by two points is learned; how long may the next one take to turn, that
  // comes slowly, as drier as `dries` says?
  const auto patience = [](const OwnSettings& own, double dries, Millis learns_for = days{10}, double height = 2) {
    const Settings settings = SettingsWith(own);
    watch::Excursion excursion;
    Instant at = FromMillis(0) + days{100};
    const Instant begun = at - learns_for;
    const auto take = [&](double beyond, double damp) {
      return excursion.Take(settings, beyond, {.mean = damp}, at += minutes{1});
    };
    take(0, 85);
    for (int minute = 0; minute < 120; ++minute) take(2 + 0.01 * minute, minute == 0 ? 85 : 83);
    std::optional<watch::Excursion::Course> ended;
    while (!ended) ended = take(0, 85);
    excursion.Learn(settings, *ended, at);
    const Instant opens = at;
    take(height, 85);
    do take(height + 0.01 * static_cast<double>((at - opens) / minutes{1}), 85 - dries);
    while (!excursion.IsTooLong(settings, settings.excursion_turn_floor, begun, at));
    return (at - opens) / minutes{1};
  };
  const auto plant = patience({}, 0), door = patience({}, 2);
  CAPTURE(plant, door);
  CHECK(plant <= 60);
  CHECK(door > 120);
  SECTION("drier by") {
    // Two points make no door here: what was learned is the plant's own.
    CHECK(patience({{"excursion: a door dries by", 4}}, 0) == door);
    CHECK(patience({{"excursion: a door dries by", 1}}, 1.2) == door);
  }
  SECTION("wide open") {
    CHECK(patience({{"excursion: a door stands wide open from", 2}}, 2) == plant);
    CHECK(patience({}, 2, days{10}, 6) == plant);
    CHECK(patience({{"excursion: a door stands wide open from", 10}}, 2, days{10}, 6) == door);
  }
  SECTION("at once") {
    watch::Excursion::Course course;
    course.began = 0.5;
    course.soon = 1;
    CHECK_FALSE(watch::Excursion::CameAtOnce({}, course));
    CHECK(watch::Excursion::CameAtOnce(SettingsWith({{"excursion: a door comes up in five minutes by", 0.4}}), course));
  }
  SECTION("first days") {
    const auto unlearned = patience({}, 2, days{3});
    CHECK(unlearned == 56);
    CHECK(patience({{"excursion: first days", 2}}, 2, days{3}) == door);
  }
}

}  // namespace rindwatch::rules
