// What a plug tells of the plant. Invented fridges: the saw of half an hour, its plant drawing 90 W for eight minutes
// of it.
#include <algorithm>
#include <cmath>

#include "tests/catch.hpp"
#include "tests/rules/alarms/plant.hpp"

namespace rindwatch::rules {
namespace {

constexpr ProbeId kPlug = 2;

bool InFall(Millis since) { return std::fmod(Minutes(since), 30) < 8; }
double Draws(Millis since) { return InFall(since) ? 90 : 0.4; }

Scene WithPlug(int learned_days = 8) {
  Scene scene = Fridge(250);
  scene.HangChannel(kPlug * 10 + 3, kPlug, ChannelKind::kPlantPower, Scene::kFridge);
  scene.Watts(Draws, kPlug);
  // Each week a door stands ajar for two hours while the plant runs on: so long may air take to turn.
  scene.Run(days{learned_days / 2});
  const Millis opened = scene.Since();
  scene.Temperature([opened](Millis since) {
    const double t = Minutes(since - opened);
    const double warm = t < 120 ? 1.7 * (1 - std::exp(-t / 40)) : 1.6 * std::exp(-(t - 120) / 15);
    return Saw(since) + std::max(0.0, warm);
  });
  scene.Run(days{learned_days - learned_days / 2});
  return scene;
}

// From now on it rises as behind a plant that gives no cold.
Scene::Course Dying(const Scene& scene) {
  const Millis dead = scene.Since();
  return [dead](Millis since) { return 20 - 7.4 * std::exp(-Minutes(since - dead) / 300); };
}

const Decision* First(const Scene& scene, AlarmKind kind, Severity severity) {
  const auto found = std::ranges::find_if(scene.decisions, [&](const Decision& decision) {
    return decision.alarm.kind == kind && decision.alarm.severity >= severity;
  });
  return found == scene.decisions.end() ? nullptr : &*found;
}

const Alarm* StandsWeak(const std::vector<Alarm>& alarms) {
  const auto found = std::ranges::find_if(
      alarms, [](const Alarm& alarm) { return alarm.kind == AlarmKind::kPlantWeak && !alarm.over; });
  return found == alarms.end() ? nullptr : &*found;
}

// From the standstill to the first act, as the plug tells or does not.
std::optional<Millis> ActAfter(bool plug_tells) {
  Scene scene = WithPlug();
  scene.Told();
  const Instant dead = scene.Now();
  scene.Temperature(Dying(scene));
  if (plug_tells)
    scene.Watts([](Millis) { return 0.4; }, kPlug);
  else
    scene.Watts({}, kPlug);
  scene.Run(hours{6});
  const Decision* const act = First(scene, AlarmKind::kTooWarm, Severity::kAct);
  return act ? std::optional{act->at - dead} : std::nullopt;
}

}  // namespace

TEST_CASE("a plant that draws nothing while the air warms needs no patience: the act is sooner than without a plug") {
  const auto with = ActAfter(true), without = ActAfter(false);
  REQUIRE(with);
  REQUIRE(without);
  CAPTURE(*with, *without);
  CHECK(*with <= minutes{90});
  CHECK(*with + minutes{20} <= *without);
}

TEST_CASE("a plant that stands is told quietly, and over when it runs again") {
  Scene scene = WithPlug();
  scene.Told();
  // The air warms so slowly that nothing else rings.
  const Millis dead = scene.Since();
  const auto creeps = [dead](Millis since) { return 12.9 + 0.7 * (1 - std::exp(-Minutes(since - dead) / 40)); };
  scene.Temperature(creeps).Watts([](Millis) { return 0.4; }, kPlug).Run(hours{3});
  const auto alarms = scene.state.Alarms();
  const Alarm* const weak = StandsWeak(alarms);
  REQUIRE(weak);
  CHECK(weak->why == Why::kStandsStill);
  CHECK(weak->severity == Severity::kWatch);
  scene.Temperature(UsualSaw).Watts(Draws, kPlug).Run(hours{3});
  CHECK_FALSE(StandsWeak(scene.state.Alarms()));
}

TEST_CASE("what a dead plant did not draw is no rest: the next time is told as soon") {
  Scene scene = WithPlug();
  const auto dies = [&] {
    scene.Told();
    scene.decisions.clear();
    const Instant dead = scene.Now();
    scene.Temperature(Dying(scene)).Watts([](Millis) { return 0.4; }, kPlug).Run(hours{5});
    const Decision* const act = First(scene, AlarmKind::kTooWarm, Severity::kAct);
    const auto after = act ? std::optional{act->at - dead} : std::nullopt;
    // Mended: back within two hours.
    const Millis mended = scene.Since();
    scene.Temperature([mended](Millis since) { return Saw(since) + 6 * std::exp(-Minutes(since - mended) / 25); });
    scene.Watts([mended](Millis since) { return Minutes(since - mended) < 60 ? 90 : Draws(since); }, kPlug);
    scene.Run(days{3});
    return after;
  };
  const auto once = dies(), again = dies();
  REQUIRE(once);
  REQUIRE(again);
  CHECK(*again <= *once + minutes{15});
}

TEST_CASE("a plug that is silent tells of no plant that stands") {
  Scene scene = WithPlug();
  // A plug that says much is remembered for longer; it falls silent while the plant rests, as in each half-hour.
  scene.Every(std::chrono::seconds{20}).Run(hours{2} + minutes{15}).Told();
  scene.Watts({}, kPlug);
  const Millis quiet = scene.Since();
  scene.Temperature([quiet](Millis since) { return 12.9 + 0.7 * (1 - std::exp(-Minutes(since - quiet) / 40)); });
  for (int hour = 0; hour < 8; ++hour) {
    scene.Run(hours{1});
    CHECK_FALSE(StandsWeak(scene.state.Alarms()));
  }
}

TEST_CASE("a defrost is a rest like any other once it was seen: it rings for nothing") {
  Scene scene = Fridge(250);
  scene.HangChannel(kPlug * 10 + 3, kPlug, ChannelKind::kPlantPower, Scene::kFridge);
  const auto in_defrost = [](Millis since) { return std::fmod(Minutes(since), 480) < 50; };
  scene.Temperature([&](Millis since) {
    const double t = std::fmod(Minutes(since), 480);
    const double top = t < 50 ? t / 50 : std::exp(-(t - 50) / 12);
    return Saw(since) + 1.2 * top;
  });
  scene.Watts([&](Millis since) { return in_defrost(since) ? 0.4 : Draws(since); }, kPlug);
  scene.Run(days{10});
  CHECK_FALSE(First(scene, AlarmKind::kPlantWeak, Severity::kWatch));
  CHECK_FALSE(First(scene, AlarmKind::kTooWarm, Severity::kAct));
}

}  // namespace rindwatch::rules
