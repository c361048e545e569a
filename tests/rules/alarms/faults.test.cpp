// What goes wrong with probes themselves: too many readings, few, gaps, and everything at once. Invented.
#include <algorithm>
#include <cmath>

#include "rules/alarms/cadence.hpp"
#include "rules/alarms/rates.hpp"
#include "tests/catch.hpp"
#include "tests/rules/alarms/scene.hpp"

namespace rindwatch::rules {
namespace {

double Minutes(Millis since) { return static_cast<double>(since / seconds{1}) / 60; }

// As a probe tells it: to a tenth.
double Tenths(double value) { return std::round(value * 10) / 10; }

// A plant's saw, 12.1 to 12.9 in half an hour.
double Saw(Millis since, double fall_minutes = 8) {
  const double within = std::fmod(Minutes(since), 30);
  const double up = (within - fall_minutes) / (30 - fall_minutes);
  return Tenths(within < fall_minutes ? 12.9 - 0.8 * within / fall_minutes : 12.1 + 0.8 * up);
}

double Damp(Millis since) { return Tenths(85 + 1.5 * std::sin(Minutes(since) / 11) + 0.4 * std::sin(Minutes(since))); }

// A little beyond the band, and never the same twice.
double Warm(Millis since) { return 14.8 + 0.1 * std::sin(Minutes(since) * 1.7); }

Scene Fridge(Millis every, double grams = 2000) {
  Scene scene;
  scene.own.clear();
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), grams).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature([](Millis since) { return Saw(since); }).Humidity(Damp).Every(every);
  return scene;
}

// From now on the plant is dead.
Scene& Die(Scene& scene) {
  const Millis dead = scene.Since();
  return scene.Temperature([dead](Millis since) { return Tenths(22 - 9.5 * std::exp(-Minutes(since - dead) / 300)); });
}

bool Says(const Lines& lines, const std::string& what) {
  return std::ranges::any_of(lines, [&](const std::string& line) { return line.find(what) != std::string::npos; });
}

std::optional<Millis> FirstAct(const Scene& scene, Millis from) {
  for (const Decision& decision : scene.decisions) {
    if (decision.alarm.kind == AlarmKind::kTooWarm && decision.alarm.severity >= Severity::kAct) {
      return decision.at - scene.At(from);
    }
  }
  return std::nullopt;
}

}  // namespace

TEST_CASE("a probe that publishes each second rings nothing, and is judged as one that speaks each minute") {
  Scene quick = Fridge(seconds{1}), usual = Fridge(minutes{1});
  quick.Run(days{1});
  usual.Run(days{1});
  CHECK(quick.Told().empty());
  CHECK(*quick.View().temperature.mean == Approx(*usual.View().temperature.mean).margin(0.05));
  CHECK(*quick.View().humidity.mean == Approx(*usual.View().humidity.mean).margin(0.2));
  REQUIRE(quick.View().wheels.size() == 1);
  CHECK(quick.View().wheels[0].core == Approx(usual.View().wheels[0].core).margin(0.03));
  // However much it says, the memory of it is no larger.
  CHECK(quick.state.ToText().size() < usual.state.ToText().size() + 700);
  SECTION("it falls silent: unknown after a minute, told after 45") {
    quick.Silent().Wait(seconds{61});
    CHECK(quick.View().state == CaveState::kUnknown);
    CHECK(quick.Told().empty());
    quick.Wait(minutes{44});
    CHECK(Says(quick.Told(), "24:45 probe silent raised watch"));
  }
  SECTION("the plant dies: it rings when it would have at one reading a minute") {
    const Millis dead = quick.Since();
    Die(quick).Run(hours{4});
    Die(usual).Run(hours{4});
    REQUIRE(FirstAct(quick, dead));
    REQUIRE(FirstAct(usual, dead));
    CHECK(std::abs((*FirstAct(quick, dead) - *FirstAct(usual, dead)) / minutes{1}) <= 5);
  }
}

TEST_CASE("a probe that speaks every 40 minutes rings nothing, and is silent only after its own pace") {
  Scene scene = Fridge(minutes{40});
  scene.Run(days{10});
  CHECK(scene.Told().empty());
  CHECK(scene.View().state == CaveState::kInBand);
  scene.Silent().Wait(minutes{139});
  CHECK(scene.View().state == CaveState::kInBand);
  CHECK(scene.Told().empty());
  scene.Wait(minutes{2});
  CHECK(scene.View().state == CaveState::kUnknown);
  CHECK(Says(scene.Told(), "probe silent raised watch"));
}

TEST_CASE("few readings still tell a dead plant, and its wheels' temperature by a line from one to the next") {
  Scene slow = Fridge(minutes{40}), usual = Fridge(minutes{1});
  slow.Run(days{10});
  usual.Run(days{10});
  slow.Told();
  usual.Told();
  const Millis dead = slow.Since();
  Die(slow).Run(hours{8});
  Die(usual).Run(hours{8});
  const auto act = FirstAct(slow, dead);
  REQUIRE(act);
  CHECK(*act < hours{4});
  REQUIRE(slow.View().wheels.size() == 1);
  CHECK(slow.View().wheels[0].core == Approx(usual.View().wheels[0].core).margin(0.15));
}

TEST_CASE("readings that come less often than every ten minutes say nothing of how fast a plant cools") {
  Scene few = Fridge(minutes{12}), enough = Fridge(minutes{2});
  for (Scene* scene : {&few, &enough}) {
    scene->Run(days{10});
    CHECK(scene->Told().empty());
    scene->Temperature([](Millis since) { return Saw(since, 16); }).Run(days{2});
  }
  CHECK_FALSE(Says(few.Told(), "plant weak"));
  CHECK(Says(enough.Told(), "plant weak raised watch"));
}

TEST_CASE("across a gap of hours a wheel's temperature is unknown, and after it as a straight line makes it") {
  Scene gap = Fridge(minutes{1}, 1200), whole = Fridge(minutes{1}, 1200);
  const auto ramp = [](Millis since) {
    return Warm(since) - 2.5 + std::clamp((Minutes(since) - 2880) / 300, 0.0, 1.0) * 1.8;
  };
  for (Scene* scene : {&gap, &whole}) scene->Temperature(ramp).Run(days{2});
  gap.Silent().Run(hours{5});
  whole.Run(hours{5});
  CHECK(gap.View().wheels.empty());
  CHECK(gap.View().temperature.state == CaveState::kUnknown);
  CHECK(whole.View().wheels[0].core > 12.6);
  gap.Temperature(ramp).Humidity(Damp).Run(minutes{5});
  whole.Run(minutes{5});
  REQUIRE(gap.View().wheels.size() == 1);
  CHECK(gap.View().wheels[0].core == Approx(whole.View().wheels[0].core).margin(0.1));
}

TEST_CASE("the edge of a gap rings nothing: neither what it jumped by nor what had been counted before") {
  Scene scene = Fridge(minutes{1});
  const auto only_silence = [](const Lines& lines) {
    for (const std::string& line : lines) UNSCOPED_INFO(line);
    return std::ranges::all_of(lines, [](const auto& line) { return line.find("probe silent") != std::string::npos; });
  };
  SECTION("inside before it, beyond the band after it") {
    scene.Run(days{5});
    CHECK(scene.Told().empty());
  }
  SECTION("forty minutes beyond before it") {
    scene.own = Scene{}.own;
    scene.Give(Scene::kFridge).Run(days{3}).Temperature(Warm).Run(minutes{40});
    CHECK(scene.Told().empty());
  }
  scene.Silent().Run(hours{3});
  CHECK(only_silence(scene.Told()));
  scene.Temperature(Warm).Humidity(Damp).Run(minutes{59});
  const Lines back = scene.Told();
  CHECK(back.size() == 1);
  CHECK(only_silence(back));
  // Only a whole delay after the window is full again.
  scene.Run(minutes{60});
  CHECK(Says(scene.Told(), "too warm raised"));
}

TEST_CASE("air that was out before a gap and is out after it has not turned: told when the window is full again") {
  Scene scene = Fridge(minutes{1});
  scene.Run(days{5}).Temperature(Warm).Run(minutes{30}).Silent().Run(hours{3});
  scene.Told();
  scene.Temperature(Warm).Humidity(Damp).Run(minutes{29});
  CHECK_FALSE(Says(scene.Told(), "too warm"));
  scene.Run(minutes{5});
  CHECK(Says(scene.Told(), "too warm raised"));
}

TEST_CASE("a gap does not look like a plant that cools slowly, nor like a drier cave") {
  Scene scene = Fridge(minutes{1});
  scene.Run(days{10});
  for (int i = 0; i < 6; ++i) {
    scene.Silent().Run(hours{4});
    scene.Temperature([](Millis since) { return Saw(since); }).Humidity(Damp).Run(hours{4});
  }
  const Lines told = scene.Told();
  CHECK(std::ranges::all_of(told, [](const auto& line) { return line.find("probe silent") != std::string::npos; }));
}

TEST_CASE("a hundred probes that fall silent at once are one alarm a cave, of the house, and none of a probe") {
  Scene scene;
  constexpr int kCaves = 20, kProbes = 5;
  for (int cave = 1; cave <= kCaves; ++cave) {
    scene.Give(cave).Lay(cave, cave, Pressed(), 2000);
    for (int i = 0; i < kProbes; ++i) scene.Hang(cave * 10 + i, cave);
  }
  for (int cave = 1; cave <= kCaves; ++cave) {
    for (int i = 0; i < kProbes; ++i) scene.Temperature(12.5, cave * 10 + i).Humidity(85, cave * 10 + i);
  }
  scene.Run(hours{2});
  CHECK(scene.Told().empty());
  scene.Wait(hours{5});
  CHECK(scene.decisions.size() == kCaves);
  for (const Decision& decision : scene.decisions) {
    CHECK(decision.alarm.kind == AlarmKind::kPowerGone);
    CHECK(decision.alarm.why == Why::kEverywhere);
    CHECK(decision.at - scene.At(hours{2}) <= minutes{5});
  }
}

TEST_CASE("a hundred alarms at once are each there once, each can be taken, and they count as one flood") {
  Scene scene;
  constexpr int kCaves = 100;
  for (int cave = 1; cave <= kCaves; ++cave) {
    scene.Give(cave).HangChannel(cave * 10 + 6, cave, ChannelKind::kCarbonDioxide, cave);
  }
  for (int minute = 0; minute < 3; ++minute) {
    for (int cave = 1; cave <= kCaves; ++cave) scene.Say(cave * 10 + 6, 20'000);
    scene.Wait(minutes{1});
  }
  REQUIRE(scene.decisions.size() == kCaves);
  std::vector<rules::Told> told;
  for (const Decision& decision : scene.decisions) {
    CHECK(decision.alarm.severity == Severity::kUrgent);
    told.push_back({decision.alarm.id, decision.alarm.severity, {decision.at}, std::nullopt});
  }
  CHECK(RatesOf(told, scene.At(hours{0}), scene.At(hours{1})).floods == 1);
  scene.state = EngineState::FromText(scene.state.ToText()).value();
  CHECK(scene.state.Alarms().size() == kCaves);
  for (const Alarm& alarm : scene.state.Alarms()) scene.Take(AlarmTaken{alarm.id});
  CHECK(std::ranges::none_of(scene.state.Alarms(), [](const Alarm& alarm) { return alarm.Rings(); }));
}

}  // namespace rindwatch::rules
