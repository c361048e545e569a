// Two probes of one cave that contradict each other. Invented.
#include <algorithm>
#include <cmath>

#include "rules/alarms/doubts.hpp"
#include "tests/catch.hpp"
#include "tests/rules/alarms/scene.hpp"

namespace rindwatch::rules {
namespace {

constexpr ProbeId kShelf = 1, kDoor = 2;

double Minutes(Millis since) { return static_cast<double>(since / minutes{1}); }

// Never the same twice, as air is.
Scene::Course Lively(double mean) {
  return [mean](Millis since) { return mean + 0.2 * std::sin(Minutes(since) / 7) + 0.1 * std::sin(Minutes(since)); };
}

// Two probes, half a degree and two points apart for two days. Its wheels keep 10.5 to 14.5, and 80 to 90.
Scene Pair() {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000);
  scene.Hang(kShelf, Scene::kFridge).Hang(kDoor, Scene::kFridge);
  scene.Temperature(Lively(12.3), kShelf).Humidity(Lively(84), kShelf);
  scene.Temperature(Lively(12.8), kDoor).Humidity(Lively(86), kDoor);
  scene.Run(days{2});
  CHECK(scene.Told().empty());
  CHECK_FALSE(scene.View().temperature.contradicted);
  return scene;
}

bool Told(const Lines& lines, const std::string& what) {
  return std::ranges::any_of(lines, [&](const std::string& line) { return line.find(what) != std::string::npos; });
}

std::optional<Alarm> Standing(const Scene& scene, AlarmKind kind) {
  for (const Alarm& alarm : scene.state.Alarms()) {
    if (alarm.kind == kind && !alarm.over) return alarm;
  }
  return std::nullopt;
}

}  // namespace

TEST_CASE("two probes that drift apart disagree, two that always differed do not") {
  Scene scene = Pair();
  scene.Hang(3, Scene::kFridge).Temperature(Lively(13.3), 3).Humidity(Lively(80), 3).Run(days{2});
  CHECK(scene.Told().empty());
  scene.Temperature(Lively(11), 3).Run(hours{7});
  CHECK(Told(scene.Told(), "probes disagree raised watch"));
}

TEST_CASE("two probes that lie far apart from the first day are asked after once, and who leaves them so is right") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000);
  scene.Hang(kShelf, Scene::kFridge).Hang(kDoor, Scene::kFridge);
  scene.Temperature(Lively(11.4), kShelf).Humidity(Lively(84), kShelf);
  scene.Temperature(Lively(14.0), kDoor).Humidity(Lively(86), kDoor);
  scene.Run(hours{8});
  CHECK(Told(scene.Told(), "probes disagree raised watch"));
  SECTION("taken and left, it is what they usually do") {
    scene.TakeAlarm(AlarmKind::kProbesDisagree).Run(days{10});
    CHECK(Told(scene.Told(), "probes disagree over"));
    scene.Temperature(Lively(11.4), kDoor).Run(days{1});
    CHECK_FALSE(Told(scene.Told(), "probes disagree raised watch"));
  }
  SECTION("put right, they agree, and that is no disagreement") {
    scene.Temperature(Lively(11.4), kDoor).Run(days{2});
    CHECK(Told(scene.Told(), "probes disagree over"));
    CHECK_FALSE(Standing(scene, AlarmKind::kProbesDisagree));
  }
}

TEST_CASE("probes that disagree say who says what, and it is over when they agree or one is taken down") {
  Scene scene = Pair();
  scene.Temperature(Lively(14.4), kDoor).Run(hours{7});
  const Lines told = scene.Told();
  for (const std::string& line : told) UNSCOPED_INFO(line);
  REQUIRE(told.size() == 1);
  CHECK(told[0].find("probes disagree raised watch") != std::string::npos);
  const auto alarm = Standing(scene, AlarmKind::kProbesDisagree);
  REQUIRE(alarm);
  REQUIRE(alarm->said.size() == 2);
  CHECK(alarm->said[0].probe == kShelf);
  CHECK(alarm->said[0].kind == ChannelKind::kTemperature);
  CHECK(alarm->said[0].value == Approx(12.3).margin(0.2));
  CHECK(alarm->said[1].probe == kDoor);
  CHECK(alarm->said[1].value == Approx(14.4).margin(0.2));
  SECTION("they agree again") {
    scene.Temperature(Lively(12.8), kDoor).Run(hours{3});
    CHECK(Told(scene.Told(), "probes disagree over"));
  }
  SECTION("one is taken down") {
    scene.Hang(kDoor, std::nullopt).Silent(kDoor).Run(minutes{2});
    CHECK(Told(scene.Told(), "probes disagree over"));
  }
}

// In so many hours at the earliest it matters, as is told each hour.
std::vector<double> Foretold(Scene& scene, int hours_long) {
  std::vector<double> left;
  for (int hour = 0; hour < hours_long; ++hour) {
    scene.Run(hours{1});
    const auto alarm = Standing(scene, AlarmKind::kTooWarm);
    if (!alarm || alarm->matters.empty()) continue;
    const Millis lasts = scene.Now() - alarm->raised;
    const Millis passed = lasts % (lasts > hours{6} ? minutes{60} : minutes{15});
    left.push_back(Minutes(alarm->matters.front().soonest - passed) / 60);
  }
  return left;
}

TEST_CASE("in air that stays as it is a forecast does not recede, by the warmer of two probes and by one alone") {
  const bool two = GENERATE(true, false);
  CAPTURE(two);
  Scene scene = Pair();
  scene.Lay(1, Scene::kFridge, Pressed(), 8000).Every(minutes{5});
  if (!two) scene.Hang(kShelf, std::nullopt).Silent(kShelf);
  scene.Run(days{2});
  scene.Told();
  // As a probe says that wavers by less than any fall.
  scene.Temperature([](Millis since) { return 15 + 0.1 * std::sin(Minutes(since) * Minutes(since)); }, kDoor);
  scene.Run(hours{3});
  const std::vector<double> left = Foretold(scene, 16);
  CAPTURE(left);
  REQUIRE(left.size() >= 12);
  for (std::size_t i = 1; i < left.size(); ++i) CHECK(left[i] <= left[i - 1] + 0.25);
}

TEST_CASE("that two probes contradict each other is one event, whatever each of them would have") {
  Scene scene = Pair();
  scene.Temperature(Lively(15.4), kDoor).Humidity(Lively(77.5), kDoor).Run(hours{9});
  const Lines told = scene.Told();
  for (const std::string& line : told) UNSCOPED_INFO(line);
  REQUIRE(told.size() == 1);
  CHECK(told[0].find("too warm raised watch") != std::string::npos);
  // What is left of it is told once the warmth is settled.
  scene.Temperature(Lively(12.8), kDoor).Run(hours{12});
  CHECK(Told(scene.Told(), "too warm over"));
  CHECK((Standing(scene, AlarmKind::kTooDry) || Standing(scene, AlarmKind::kProbesDisagree)));
}

TEST_CASE("while they contradict each other the worse one is told, quietly, and the cave is unknown, never in band") {
  Scene scene = Pair();
  // Their mean, 13.9, lies inside the band.
  scene.Temperature(Lively(15.4), kDoor).Run(minutes{55});
  CHECK(scene.View().temperature.contradicted);
  CHECK(scene.View().temperature.state == CaveState::kUnknown);
  CHECK(scene.View().state == CaveState::kUnknown);
  scene.Run(hours{1});
  const Lines told = scene.Told();
  REQUIRE(told.size() == 1);
  CHECK(told[0].find("too warm raised watch") != std::string::npos);
  auto alarm = Standing(scene, AlarmKind::kTooWarm);
  REQUIRE(alarm);
  CHECK(alarm->why == Why::kOneProbe);
  CHECK(alarm->value == Approx(15.4).margin(0.3));
  CHECK(alarm->said.size() == 2);
  CHECK(scene.View().temperature.highest.value_or(0) == Approx(15.4).margin(0.3));
  // It stays quiet as long as one of the two says that all is well.
  scene.Run(hours{10});
  alarm = Standing(scene, AlarmKind::kTooWarm);
  REQUIRE(alarm);
  CHECK(alarm->severity == Severity::kWatch);
  // Both beyond: known again, and as loud as it deserves.
  scene.Temperature(Lively(17), kShelf).Temperature(Lively(19.5), kDoor).Run(hours{4});
  CHECK(scene.View().temperature.state == CaveState::kOutOfBand);
  CHECK(Standing(scene, AlarmKind::kTooWarm)->severity >= Severity::kAct);
  CHECK(Standing(scene, AlarmKind::kTooWarm)->said.empty());
}

TEST_CASE("the cold, the dry and the damp side of one probe are told as well") {
  Scene cold = Pair();
  cold.Temperature(Lively(9.6), kShelf).Run(hours{5});
  CHECK(Told(cold.Told(), "too cold raised watch"));
  Scene dry = Pair();
  dry.Humidity(Lively(76), kShelf).Run(hours{4});
  CHECK(Told(dry.Told(), "too dry raised watch"));
  CHECK(dry.View().humidity.state == CaveState::kUnknown);
  Scene damp = Pair();
  damp.Humidity(Lively(94), kDoor).Run(hours{9});
  CHECK(Told(damp.Told(), "too damp raised watch"));
}

TEST_CASE("a contradiction within the band is in band, and a door's rush past one probe is no contradiction") {
  Scene scene = Pair();
  scene.Temperature(Lively(14.4), kDoor).Run(hours{2});
  CHECK(scene.View().temperature.contradicted);
  CHECK(scene.View().temperature.state == CaveState::kInBand);
  Scene door = Pair();
  const Millis open = door.Since();
  door.Temperature(
      [open](Millis since) {
        const double gone = Minutes(since - open);
        return Lively(12.8)(since) + (gone < 15 ? gone / 3 : gone < 30 ? (30 - gone) / 3 : 0);
      },
      kDoor);
  for (int minute = 0; minute < 120; ++minute) {
    door.Run(minutes{1});
    CHECK_FALSE(door.View().temperature.state == CaveState::kUnknown);
  }
  CHECK(door.Told().empty());
}

TEST_CASE("a stuck, a wet and a silent probe are left out of the mean, and contradict nobody") {
  Scene scene = Pair();
  SECTION("stuck") {
    scene.own.clear();
    scene.Give(Scene::kFridge).Run(days{3});
    scene.Temperature(14.2, kDoor).Run(hours{2});
    CHECK(Told(scene.Told(), "probe stuck"));
    CHECK(scene.View().temperature.mean.value_or(0) == Approx(12.3).margin(0.3));
  }
  SECTION("wet") {
    scene.Humidity([](Millis since) { return 99.3 + 0.1 * std::sin(Minutes(since)); }, kDoor).Run(hours{3});
    CHECK(Told(scene.Told(), "probe wet"));
    CHECK(scene.View().humidity.mean.value_or(0) == Approx(84).margin(0.5));
  }
  SECTION("silent") {
    scene.Silent(kDoor).Run(hours{1});
    CHECK(Told(scene.Told(), "probe silent"));
    CHECK(scene.View().temperature.mean.value_or(0) == Approx(12.3).margin(0.3));
  }
  CHECK_FALSE(scene.View().temperature.contradicted);
  CHECK_FALSE(scene.View().humidity.contradicted);
}

TEST_CASE("a contradiction is remembered in the written state") {
  Scene scene = Pair();
  scene.Temperature(Lively(15.4), kDoor).Run(minutes{50});
  scene.state = EngineState::FromText(scene.state.ToText()).value();
  CHECK(scene.View().temperature.state == CaveState::kUnknown);
  scene.Run(hours{7});
  CHECK(Told(scene.Told(), "too warm raised watch"));
  CHECK(EngineState::FromText(scene.state.ToText())->Alarms() == scene.state.Alarms());
}

}  // namespace rindwatch::rules
