// What is learned of a cave is learned of well days: one with an alarm at act or above teaches nothing. Invented.
#include <algorithm>
#include <cmath>

#include "rules/alarms/body.hpp"
#include "tests/catch.hpp"
#include "tests/rules/alarms/scene.hpp"

namespace rindwatch::rules {
namespace {

constexpr ProbeId kBoxProbe = 2;

double Minutes(Millis since) { return static_cast<double>(since / minutes{1}); }

double Saw(Millis since) {
  const double within = std::fmod(Minutes(since), 30);
  return within < 8 ? 12.9 - 0.1 * within : 12.1 + 0.8 * (within - 8) / 22;
}

const watch::Habit& HabitOf(const Scene& scene, ProbeId probe = Scene::kProbe) {
  return scene.state.body().FindChannel(probe * 10 + 1)->habit;
}

bool ActStands(const Scene& scene) {
  return std::ranges::any_of(scene.state.Alarms(), [](const Alarm& alarm) {
    return alarm.kind == AlarmKind::kTooWarm && alarm.severity >= Severity::kAct && !alarm.over;
  });
}

// Six days of well air; the scene began at 06:00, so it stands at 06:00.
Scene Fridge() {
  Scene scene;
  scene.own.clear();
  scene.Give(Scene::kFridge).Give(Scene::kBox, Scene::kFridge);
  scene.Lay(1, Scene::kFridge, Pressed(), 2000).Lay(2, Scene::kBox, Pressed(), 2000);
  scene.Hang(Scene::kProbe, Scene::kFridge).Hang(kBoxProbe, Scene::kBox);
  scene.Temperature(Saw).Temperature(Saw, kBoxProbe);
  const Scene::Course lively = [](Millis since) { return 85 + 0.3 * std::sin(Minutes(since) / 7); };
  scene.Humidity(lively).Humidity(lively, kBoxProbe).Run(days{6});
  return scene;
}

}  // namespace

TEST_CASE("days with an alarm at act or above change nothing of what a cave usually does; the same days without do") {
  for (const bool in_service : {true, false}) {
    CAPTURE(in_service);
    Scene scene = Fridge();
    if (!in_service) {
      scene.Take(CaveGiven{Scene::kFridge, {}, DayTurn{}, {}, {}, {}, {AlarmKind::kTooWarm}});
      scene.Take(CaveGiven{Scene::kBox, Scene::kFridge, DayTurn{}, {}, {}, {}, {AlarmKind::kTooWarm}});
    }
    const watch::Habit before = HabitOf(scene), box_before = HabitOf(scene, kBoxProbe);
    // It cools still, but never far enough: 17 to 18 degrees for three days.
    const Scene::Course warm = [](Millis since) { return Saw(since) + 5; };
    scene.Temperature(warm).Temperature(warm, kBoxProbe).Run(days{3});
    CHECK(ActStands(scene) == in_service);
    const watch::Habit &after = HabitOf(scene), &box_after = HabitOf(scene, kBoxProbe);
    // The day on which it began is spoiled too; in the well cave three days were added.
    CHECK((after.spread.Days() == before.spread.Days()) == in_service);
    CHECK((box_after.spread.Days() == box_before.spread.Days()) == in_service);
    // Until it rang a few minutes counted.
    const double learned = after.day_mean.RecentMean().value_or(0) - before.day_mean.RecentMean().value_or(0);
    CHECK((std::abs(learned) < 1) == in_service);
    const auto falls = after.fall_rate.RecentCount() + after.fall_rate.NormalCount() - before.fall_rate.RecentCount() -
                       before.fall_rate.NormalCount();
    // Two an hour; a day that was half gathered counts once it is whole.
    CHECK((falls < 60) == in_service);
  }
}

}  // namespace rindwatch::rules
