// Gas, dew, power and silence in what they must never do and how they end; a place without a probe. Invented.
#include "rules/alarms/more_kinds.hpp"

#include <algorithm>
#include <cmath>

#include "rules/alarms/presence.hpp"
#include "tests/catch.hpp"
#include "tests/rules/alarms/plant.hpp"

namespace rindwatch::rules {
namespace {

constexpr ChannelId kGas = 16;

bool Says(const Lines& lines, const std::string& what) {
  return std::ranges::any_of(lines, [&](const std::string& line) { return line.find(what) != std::string::npos; });
}

Scene& SayFor(Scene& scene, double ppm, int count) {
  for (int i = 0; i < count; ++i) scene.Say(kGas, ppm).Run(minutes{1});
  return scene;
}

}  // namespace

TEST_CASE("ammonia is a watch at 15 and an act at 25 ppm, never quieted, over after a quarter of an hour well below") {
  Scene scene = Fridge();
  scene.HangChannel(kGas, Scene::kProbe, ChannelKind::kAmmonia, Scene::kFridge).Run(hours{1});
  scene.Take(KeeperHere{Scene::kFridge});
  SayFor(scene, 14, 30);
  CHECK(scene.Told().empty());
  SayFor(scene, 16, 12);
  CHECK(Says(scene.Told(), "ammonia raised watch"));
  SayFor(scene, 26, 4);
  CHECK(Says(scene.Told(), "ammonia raised severity act"));
  SayFor(scene, 14, 30);  // below the limit, and not clearly
  CHECK(scene.Told().empty());
  SayFor(scene, 10, 14);
  CHECK(scene.Told().empty());
  SayFor(scene, 10, 3);
  CHECK(Says(scene.Told(), "ammonia over"));
}

TEST_CASE("an alarm of gas says what is there now, and what was the most") {
  Scene scene;
  scene.Give(Scene::kRoom).HangChannel(kGas, 1, ChannelKind::kCarbonDioxide, Scene::kRoom);
  SayFor(scene, 2650, 30);
  REQUIRE(scene.state.Alarms().size() == 1);
  SayFor(scene, 6000, 30);
  CHECK(scene.decisions.back().alarm.value == 6000);
  SayFor(scene, 5200, 5);
  CHECK(scene.state.Alarms().front().value == 5200);
  CHECK(scene.state.Alarms().front().extreme == 6000);
}

TEST_CASE("a gas probe that falls silent is one people rely on") {
  Scene scene;
  scene.Give(Scene::kRoom).HangChannel(kGas, 1, ChannelKind::kCarbonDioxide, Scene::kRoom);
  SayFor(scene, 600, 30);
  scene.Wait(hours{4});
  CHECK(scene.Told() == Lines{"0:44 probe silent raised watch", "1:14 probe silent raised severity act"});
}

TEST_CASE("a gas probe that falls silent while gas stands there rings at once, at night too") {
  Scene scene;
  scene.Give(Scene::kRoom).HangChannel(kGas, 1, ChannelKind::kCarbonDioxide, Scene::kRoom);
  scene.Hang(2, Scene::kRoom).Temperature(Lively(12), 2).Humidity(Lively(85), 2).Run(hours{17});
  SayFor(scene, 600, 30);
  SayFor(scene, 6000, 30);
  scene.Told();
  scene.Run(hours{1});
  CHECK(scene.Told() == Lines{"18:04 probe silent raised act"});
}

TEST_CASE("while gas stands in a place its open door is no alarm; once it is gone it is one") {
  constexpr ChannelId kDoorContact = 77;
  Scene scene = Fridge();
  scene.HangChannel(kGas, 3, ChannelKind::kCarbonDioxide, Scene::kFridge);
  scene.HangChannel(kDoorContact, 4, ChannelKind::kDoor, Scene::kFridge).Run(hours{1});
  SayFor(scene, 6000, 10);
  scene.Say(kDoorContact, 1);
  scene.Told();
  SayFor(scene, 6000, 40);
  CHECK_FALSE(Says(scene.Told(), "door open"));
  // Who aired it may take as long to shut it as anybody does.
  SayFor(scene, 600, 25);
  CHECK_FALSE(Says(scene.Told(), "door open"));
  SayFor(scene, 600, 25);
  CHECK(Says(scene.Told(), "door open raised act"));
}

TEST_CASE("a door that a contact tells of keeps how warm air and wheels became while it stood open") {
  constexpr ChannelId kDoorContact = 77;
  Scene scene = Fridge();
  scene.HangChannel(kDoorContact, 4, ChannelKind::kDoor, Scene::kFridge).Temperature(Lively(12)).Run(hours{20});
  scene.Say(kDoorContact, 1).Temperature(Lively(13.4)).Run(hours{2});
  scene.Temperature(Lively(12)).Run(hours{1});
  const auto alarms = scene.state.Alarms();
  const auto door = std::ranges::find_if(alarms, [](const Alarm& alarm) { return alarm.kind == AlarmKind::kDoorOpen; });
  REQUIRE(door != alarms.end());
  CHECK(door->extreme == Approx(13.4).margin(0.35));
  REQUIRE_FALSE(door->own.empty());
  CHECK(door->own.front().value > 12.1);
  CHECK(door->own.front().value < door->extreme);
}

TEST_CASE("a gas probe that falls silent at night while nothing is wrong waits for morning, where others speak") {
  Scene scene;
  scene.Give(Scene::kRoom).HangChannel(kGas, 1, ChannelKind::kCarbonDioxide, Scene::kRoom);
  scene.Hang(2, Scene::kRoom).Temperature(Lively(12), 2).Humidity(Lively(85), 2).Run(hours{17});
  SayFor(scene, 600, 30);
  scene.Told();
  scene.Run(hours{8});
  const Lines told = scene.Told();
  REQUIRE(told.size() == 2);
  CHECK(told[0] == "17:44 probe silent raised watch");
  CHECK(told[1] == "24:30 probe silent raised severity act");  // half past six
}

TEST_CASE("dew that stays is an act after four hours, and over when the rinds are dry for a while") {
  Scene scene = Fridge(8000);
  scene.Temperature(Lively(12)).Humidity([](Millis since) { return 97 + 1.2 * std::sin(Minutes(since) / 5); });
  scene.own = {{"condensation: rind above the dew point by less than", 2}};
  scene.Give(Scene::kFridge).Run(days{3});
  const Lines told = scene.Told();
  CHECK(Says(told, "condensation raised watch"));
  CHECK(Says(told, "condensation raised severity act"));
  scene.Humidity(Lively(80.5)).Run(hours{4});
  CHECK(Says(scene.Told(), "condensation over"));
}

TEST_CASE("wet air is one alarm: what is told of drops on rinds tells that it is too damp") {
  Scene scene = Fridge(8000);
  scene.own = {{"condensation: rind above the dew point by less than", 2}};
  scene.Give(Scene::kFridge).Temperature(Lively(12)).Humidity(Lively(85)).Run(days{2});
  scene.Told();
  scene.Humidity([](Millis since) { return 97 + 1.2 * std::sin(Minutes(since) / 5); }).Run(hours{30});
  int bells = 0;
  for (const Alarm& alarm : scene.state.Alarms()) bells += alarm.Rings();
  CHECK(bells == 1);
  const Lines told = scene.Told();
  CHECK(Says(told, "condensation raised severity act"));
  CHECK_FALSE(Says(told, "too damp raised severity act"));
  // Once the drops are gone, air that is too damp still is told as that.
  scene.own = {{"condensation: rind above the dew point by less than", 0}};
  scene.Give(Scene::kFridge).Humidity(Lively(94)).Run(hours{30});
  const Lines after = scene.Told();
  CHECK(Says(after, "condensation over"));
  CHECK(after == Lines{"79:05 condensation over", "79:06 too damp raised act"});
}

TEST_CASE("drops that are told quietly do not keep air quiet that has become an act") {
  Scene scene = Fridge(8000);
  scene.own = {{"condensation: rind above the dew point by less than", 2}, {"condensation: act after", 2880}};
  scene.Give(Scene::kFridge).Temperature(Lively(12)).Humidity(Lively(85)).Run(days{2});
  scene.Told();
  scene.Humidity([](Millis since) { return 97 + 1.2 * std::sin(Minutes(since) / 5); }).Run(hours{30});
  const Lines told = scene.Told();
  CHECK(Says(told, "condensation raised watch"));
  CHECK((Says(told, "too damp raised act") || Says(told, "too damp raised severity act")));
}

namespace {

constexpr ChannelId kInWheel = 17;

// Five hours of air at 14.0 degrees and 97 %, whose dew point is 13.5; a wheel is measured at `celsius` meanwhile.
Scene WarmAndDamp(std::optional<double> celsius) {
  Scene scene = Fridge(8000);
  if (celsius) scene.HangChannel(kInWheel, Scene::kProbe, ChannelKind::kWheelTemperature, Scene::kFridge);
  scene.Temperature(Lively(12.4)).Humidity(Lively(85)).Run(days{2});
  scene.Told();
  scene.Temperature(Lively(14)).Humidity(Lively(97));
  for (int i = 0; i < 60; ++i) {
    if (celsius) scene.Say(kInWheel, *celsius);
    scene.Run(minutes{5});
  }
  return scene;
}

const Alarm* Dew(const std::vector<Alarm>& alarms) {
  const auto dew = std::ranges::find(alarms, AlarmKind::kCondensation, &Alarm::kind);
  return dew == alarms.end() ? nullptr : &*dew;
}

}  // namespace

TEST_CASE("a wheel that is measured below the dew point is wet, whatever is reckoned of it") {
  const auto alarms = WarmAndDamp(10.5).state.Alarms();
  const Alarm* const dew = Dew(alarms);
  REQUIRE(dew);
  CHECK(dew->value == Approx(-3).margin(0.5));
  CHECK(dew->severity == Severity::kAct);
  CHECK(dew->wheels.size() == 1);
}

TEST_CASE("a wheel that is measured warm does not make another one dry, and one that fell silent is not measured") {
  const auto reckoned = WarmAndDamp(std::nullopt).state.Alarms();
  const auto warm = WarmAndDamp(14).state.Alarms();
  REQUIRE(Dew(reckoned));
  REQUIRE(Dew(warm));
  CHECK(Dew(warm)->value == Dew(reckoned)->value);
  Scene scene = WarmAndDamp(10.5);
  scene.Run(hours{2});
  const auto silent = scene.state.Alarms();
  REQUIRE(Dew(silent));
  CHECK(Dew(silent)->value > -1);
}

TEST_CASE("a rind that was wet stays wet until its film is gone, though the air of a plant comes and goes") {
  // What is reckoned of the wheel comes up to the dew point after some hours, and over it now and then.
  const auto alarms = WarmAndDamp(std::nullopt).state.Alarms();
  const Alarm* const dew = Dew(alarms);
  REQUIRE(dew);
  CHECK(std::abs(dew->value) < 0.5);
  CHECK(dew->severity == Severity::kAct);
}

TEST_CASE("a keeper who is there quiets no power cut") {
  Scene scene = Fridge();
  scene.Hang(2, Scene::kFridge);
  scene.Temperature([](Millis since) { return Saw(since) + 0.2; }, 2).Humidity(Lively(84), 2).Run(hours{2});
  scene.Take(KeeperHere{Scene::kFridge}).Silent(1).Silent(2).Wait(minutes{30});
  CHECK(scene.Told() == Lines{"2:03 power gone raised act"});
}

TEST_CASE("what is urgent rings though a keeper is there") {
  Scene scene = Fridge();
  scene.Run(days{1}).Temperature(Lively(26)).Take(KeeperHere{Scene::kFridge});
  scene.Run(minutes{59});
  CHECK_FALSE(Says(scene.Told(), "too warm raised act"));
  for (int i = 0; i < 4; ++i) scene.Take(KeeperHere{Scene::kFridge}).Run(minutes{50});
  CHECK(Says(scene.Told(), "urgent"));
}

TEST_CASE("a place without a probe rings nothing, whatever lies there") {
  Scene scene;
  scene.Give(Scene::kFridge).Give(Scene::kBox, Scene::kFridge).Give(Scene::kRoom);
  scene.Lay(1, Scene::kFridge, Bloomy(), 250).Lay(2, Scene::kBox, Pressed(), 2000).Lay(3, Scene::kRoom, Bloomy());
  scene.Wait(days{90});
  CHECK(scene.Told().empty());
  for (const CaveId cave : {Scene::kFridge, Scene::kBox, Scene::kRoom}) {
    CHECK(scene.View(cave).state == CaveState::kNotWatched);
  }
}

TEST_CASE("a door that stood open for two hours lifts the mean of the day, and blames no plant for it") {
  Scene scene = Fridge(8000);
  scene.Run(days{8});
  const Millis opened = scene.Since();
  scene.Temperature([opened](Millis since) {
    const double t = Minutes(since - opened);
    const double warm = t < 120 ? 6 * (1 - std::exp(-t / 4)) : 6 * std::exp(-(t - 120) / 15);
    return Saw(since) + warm;
  });
  scene.Run(days{3});
  for (const Decision& decision : scene.decisions) {
    CAPTURE(decision.at - scene.At(opened));
    CHECK(decision.alarm.kind != AlarmKind::kPlantWeak);
  }
}

TEST_CASE(
    "a thermostat that is mended is over when the air has been as it was for some hours, whatever the mean of the day "
    "holds") {
  Scene scene = Fridge(8000);
  scene.Run(days{10});
  const auto warmer = [](double by) { return [by](Millis since) { return Saw(since) + by; }; };
  const Scene::Course as_before = [](Millis since) { return Saw(since); };
  scene.Temperature(warmer(0.8)).Run(days{3});
  const auto told = [&](Decision::Change change) {
    return std::ranges::count_if(scene.decisions, [change](const Decision& decision) {
      return decision.alarm.kind == AlarmKind::kPlantWeak && decision.change == change;
    });
  };
  using enum Decision::Change;
  REQUIRE(told(kRaised) == 1);
  const Millis mended = scene.Since();
  scene.Temperature(as_before).Run(hours{8});
  CHECK(told(kOver) == 1);
  CHECK(scene.decisions.back().at > scene.At(mended) + hours{2});
  SECTION("once: the mean of the day that still holds it raises nothing anew") {
    scene.Run(days{2});
    CHECK(told(kRaised) == 1);
  }
  SECTION("what becomes clearly worse than it was is told") {
    scene.Temperature(warmer(2)).Run(days{2});
    CHECK(told(kRaised) == 2);
  }
}

TEST_CASE("how far the mean of the day has come is told of the whole time, also while graver air teaches nothing") {
  Scene scene = Fridge(8000);
  scene.Run(days{10});
  scene.Temperature([](Millis since) { return Saw(since) + 0.8; }).Run(days{2});
  const auto of = [&](AlarmKind kind) {
    const auto alarms = scene.state.Alarms();
    const auto found = std::ranges::find_if(alarms, [&](const Alarm& alarm) { return alarm.kind == kind; });
    REQUIRE(found != alarms.end());
    return *found;
  };
  CHECK(of(AlarmKind::kPlantWeak).extreme < 1);
  scene.Temperature([](Millis since) { return Saw(since) + 5; }).Run(hours{20});
  REQUIRE(of(AlarmKind::kTooWarm).severity >= Severity::kAct);
  CHECK(of(AlarmKind::kPlantWeak).extreme > 3);
  CHECK(of(AlarmKind::kPlantWeak).value > 3);
}

TEST_CASE("what is said of a plant is over once it cannot be measured for two days") {
  Scene scene = Fridge(8000);
  scene.Run(days{10});
  scene.Temperature([](Millis since) { return Saw(since, 14); }).Run(days{3});
  const auto stands = [&] {
    return std::ranges::any_of(scene.state.Alarms(),
                               [](const Alarm& alarm) { return alarm.kind == AlarmKind::kPlantWeak && !alarm.over; });
  };
  REQUIRE(stands());
  // It cycles no more, as a cooler of another kind does.
  scene.Temperature([](Millis since) { return 12.5 + 0.1 * std::sin(Minutes(since) / 40); }).Run(days{4});
  CHECK_FALSE(stands());
}

TEST_CASE("a wheel that nobody has tended for weeks is no alarm: a care never is") {
  Scene scene = Fridge();
  scene.Run(days{30});
  CHECK(scene.Told().empty());
}

TEST_CASE("on its first day a fridge that was learned by nobody rings for warm air that does not turn") {
  Scene scene = Fridge();
  scene.Run(hours{12});
  const Millis dead = scene.Since();
  scene.Temperature([dead](Millis since) { return 20 - 7.6 * std::exp(-Minutes(since - dead) / 240); });
  scene.Run(hours{4});
  REQUIRE(!scene.decisions.empty());
  const auto act = std::ranges::find_if(
      scene.decisions, [](const Decision& decision) { return decision.alarm.severity >= Severity::kAct; });
  REQUIRE(act != scene.decisions.end());
  CHECK(act->alarm.why == Why::kNotTurningYet);
  CHECK(act->at - scene.At(dead) < hours{3});
}

// Somebody comes and opens the door; up at once, down as it is shut, and slowly down from there.
static Scene SlowlyBack(const std::function<void(Scene&)>& told) {
  Scene scene = Fridge();
  scene.Run(days{6});
  told(scene);
  const Millis came = scene.Since();
  scene.Temperature([came](Millis since) {
    const double gone = Minutes(since - came);
    const double shut = gone - 10;
    return Saw(since) + (gone < 10 ? gone / 4 : 1.3 * std::exp(-shut / 5) + 1.2 * std::exp(-shut / 90));
  });
  scene.Run(hours{4});
  CHECK(scene.Told().empty());
  return scene;
}

TEST_CASE("a long excursion while somebody was there is a delivery, named and not rung; with nobody it is only warm") {
  const Scene here = SlowlyBack([](Scene& scene) { scene.Take(KeeperHere{Scene::kFridge}); });
  REQUIRE(!here.View().shapes.empty());
  CHECK(here.View().shapes.back().kind == ShapeKind::kDelivery);
  const Scene nobody = SlowlyBack([](Scene&) {});
  REQUIRE(!nobody.View().shapes.empty());
  for (const Shape& shape : nobody.View().shapes) CHECK(shape.kind == ShapeKind::kWarmed);
}

// As a wheel is entered, or moved: now, or said later.
static Scene LaidIn(bool now, std::optional<CaveId> from) {
  return SlowlyBack([=](Scene& scene) {
    scene.Give(Scene::kRoom).Give(Scene::kBox, Scene::kFridge);
    WheelGiven given{7, from, {}, Grams{250}};
    if (from) scene.Take(given);
    given.cave = Scene::kFridge;
    given.laid_now = now;
    scene.Take(given);
  });
}

TEST_CASE(
    "wheels that are laid in from elsewhere are warm goods; what is said later or comes out of a box here is not") {
  const auto named = [](const Scene& scene) {
    const auto shapes = scene.View().shapes;
    return shapes.empty() ? std::string{} : std::string{ToText(shapes.back().kind)};
  };
  CHECK(named(LaidIn(true, {})) == "delivery");
  CHECK(named(LaidIn(true, Scene::kRoom)) == "delivery");
  CHECK(named(LaidIn(false, {})) == "warmed");
  CHECK(named(LaidIn(true, Scene::kBox)) == "warmed");
}

TEST_CASE("wheels that come from a room as cool as here are no warm goods") {
  const Scene after = SlowlyBack([](Scene& scene) {
    scene.Give(Scene::kRoom).Hang(2, Scene::kRoom).Temperature([](Millis since) { return Saw(since) + 0.5; }, 2);
    scene.Humidity(Lively(85), 2).Run(hours{2});
    WheelGiven given{7, Scene::kRoom, {}, Grams{250}};
    scene.Take(given);
    given.cave = Scene::kFridge;
    given.laid_now = true;
    scene.Take(given);
  });
  REQUIRE(!after.View().shapes.empty());
  for (const Shape& shape : after.View().shapes) CHECK(shape.kind != ShapeKind::kDelivery);
}

TEST_CASE("a tick or an entry that follows within a quarter of an hour names what was only warm") {
  for (const bool tick : {true, false}) {
    Scene scene = Fridge();
    scene.Run(days{6});
    const Millis came = scene.Since();
    scene.Temperature([came](Millis since) {
      const double gone = Minutes(since - came);
      return Saw(since) + (gone < 8 ? gone / 2 : gone < 20 ? (20 - gone) / 3 : 0.0);
    });
    scene.Run(minutes{35});
    REQUIRE(!scene.View().shapes.empty());
    CHECK(scene.View().shapes.back().kind == ShapeKind::kWarmed);
    WheelGiven given{7, Scene::kFridge, {}, Grams{250}};
    given.laid_now = true;
    if (tick) {
      scene.Take(KeeperTended{Scene::kFridge});
    } else {
      scene.Take(given);
    }
    CHECK(scene.View().shapes.back().kind == (tick ? ShapeKind::kYourRound : ShapeKind::kDelivery));
  }
}

// Who comes when the air has been warm for hours: to look, to say so, to lay the wheels back.
static void Come(Scene& scene, int how) {
  if (how == 0) scene.Take(KeeperTended{Scene::kFridge});
  if (how == 1) scene.Take(KeeperHere{Scene::kFridge});
  WheelGiven given{7, Scene::kFridge, {}, Grams{250}};
  given.laid_now = true;
  if (how == 2) scene.Take(given);
}

// Warm by so much for four hours, drier from some time on; somebody comes so long before it is cool again, or after.
static Scene WarmForHours(double by, double dry_after, Millis comes, int how, bool contact = false) {
  Scene scene = Fridge();
  if (contact) scene.HangChannel(15, Scene::kProbe, ChannelKind::kDoor, Scene::kFridge);
  scene.Run(days{6});
  const Millis began = scene.Since();
  scene.Take(KeeperTended{Scene::kFridge});
  if (contact) scene.Say(15, 1);
  scene.Temperature([=](Millis since) {
    const double gone = Minutes(since - began);
    return Saw(since) + by * (gone < 2 ? gone / 2 : gone < 240 ? 1 : std::max(0.0, 1 - (gone - 240) / 20));
  });
  scene.Humidity([=](Millis since) {
    const double gone = Minutes(since - began);
    return Lively(85)(since) - (gone >= dry_after && gone < 265 ? 6 : 0);
  });
  scene.Run(hours{4} + comes);
  Come(scene, how);
  scene.Run(minutes{5});
  if (contact) scene.Say(15, 0);
  scene.Run(hours{2});
  REQUIRE_FALSE(scene.state.body().caves.at(Scene::kFridge).temperature.warm.IsOpen());
  return scene;
}

TEST_CASE("who comes at the end of hours of warm air made none of them, nor was it what they lay in then") {
  for (const Millis comes : {minutes{-15}, minutes{5}, minutes{40}}) {
    for (const int how : {0, 1, 2}) {
      INFO(comes / minutes{1} << " min, " << how);
      const Scene scene = WarmForHours(1.6, 0, comes, how);
      REQUIRE(!scene.View().shapes.empty());
      const ShapeKind kind = scene.View().shapes.back().kind;
      CHECK((kind == ShapeKind::kWarmed || kind == ShapeKind::kDoor));
    }
  }
}

TEST_CASE(
    "what rang is a door if it began as one, by contact or by drier air; else it has no name, whoever comes and "
    "opens") {
  for (const Millis comes : {minutes{-15}, minutes{5}, minutes{40}}) {
    for (const int how : {0, 1, 2}) {
      INFO(comes / minutes{1} << " min, " << how);
      Scene scene = WarmForHours(5, 120, comes, how);
      CHECK(scene.View().shapes.empty());
      CHECK(std::ranges::any_of(scene.decisions, [](const Decision& decision) {
        return decision.alarm.kind == AlarmKind::kTooWarm && decision.alarm.severity >= Severity::kAct;
      }));
    }
  }
  const Scene door = WarmForHours(5, 120, minutes{0}, 0, true);
  REQUIRE(door.View().shapes.size() == 1);
  CHECK(door.View().shapes.back().kind == ShapeKind::kDoor);
  const Scene dry = WarmForHours(5, 0, minutes{0}, 0);
  REQUIRE(dry.View().shapes.size() == 1);
  CHECK(dry.View().shapes.back().kind == ShapeKind::kDoor);
}

TEST_CASE("rounds that are ticked when the air is back are no defrost, though they come at one hour and damp the air") {
  for (const bool ticks : {false, true}) {
    Scene scene = Fridge();
    const auto back = [](Millis since) {
      return since < days{2} ? 0.0 : std::max(0.0, 1 - std::abs(std::fmod(Minutes(since), 1440) - 240) / 15);
    };
    scene.Temperature([back](Millis since) { return Saw(since) + 3 * back(since); });
    scene.Humidity([back](Millis since) { return Lively(85)(since) + 12 * back(since); });
    scene.Run(days{2} + hours{4} + minutes{25});
    for (int day = 0; day < 4; ++day) {
      if (ticks) scene.Take(KeeperTended{Scene::kFridge});
      scene.Run(days{1});
    }
    const auto shapes = scene.View().shapes;
    const auto defrosts = std::ranges::count(shapes, ShapeKind::kDefrost, &Shape::kind);
    INFO(ticks << ", of " << shapes.size());
    CHECK((ticks ? defrosts == 0 : defrosts >= 3));
  }
}

TEST_CASE("a round began with the first of its ticks, or with the work before it, and not hours earlier") {
  const Instant noon = std::chrono::sys_days{std::chrono::year{2026} / 3 / 2} + hours{12};
  watch::Cave cave;
  CHECK_FALSE(watch::BeganWithRound(cave, noon));
  watch::BeSeen(cave, noon);
  CHECK(watch::BeganWithRound(cave, noon - minutes{30}));
  CHECK_FALSE(watch::BeganWithRound(cave, noon - minutes{31}));
  CHECK(watch::BeganWithRound(cave, noon + minutes{15}));
  CHECK_FALSE(watch::BeganWithRound(cave, noon + minutes{16}));
  watch::BeSeen(cave, noon + minutes{25});
  CHECK(watch::BeganWithRound(cave, noon - minutes{30}));
  watch::BeSeen(cave, noon + hours{3});
  CHECK_FALSE(watch::BeganWithRound(cave, noon));
}

TEST_CASE("at night a silent probe does not wait for morning where nothing else speaks, or something rings") {
  SECTION("alone") {
    Scene scene = Fridge();
    scene.Run(hours{17}).Silent(1).Wait(hours{12});
    CHECK(scene.Told() == Lines{"17:45 probe silent raised watch", "20:00 probe silent raised severity act"});
  }
  SECTION("its neighbour's air is not calm") {
    Scene scene = Fridge();
    scene.Hang(2, Scene::kFridge);
    scene.Temperature([](Millis since) { return Saw(since) + 0.2; }, 2).Humidity(Lively(84), 2);
    scene.Run(hours{17}).Silent(1).Temperature(Lively(17), 2).Run(hours{4});
    CHECK(std::ranges::none_of(scene.decisions, [](const Decision& one) { return one.alarm.waited; }));
    CHECK(Says(scene.Told(), "20:00 probe silent raised severity act"));
  }
}

}  // namespace rindwatch::rules
