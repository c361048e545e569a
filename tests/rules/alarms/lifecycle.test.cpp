#include "tests/catch.hpp"
#include "tests/rules/alarms/scene.hpp"

namespace rindwatch::rules {
namespace {

// A soft wheel's fridge at 14.5 degrees since 3:00: the mean leaves 13.5 with the 21st minute.
Scene Warm() {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Bloomy(), 250).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(11.5).Humidity(93).Run(hours{3}).Temperature(14.5).Run(hours{2});
  CHECK(scene.Told() == Lines{"4:21 too warm raised watch"});
  return scene;
}

}  // namespace

TEST_CASE("taken, then over: it leaves the list") {
  Scene scene = Warm();
  scene.TakeAlarm(AlarmKind::kTooWarm);
  CHECK(scene.Told() == Lines{"5:00 too warm taken"});
  REQUIRE(scene.state.Alarms().size() == 1);
  CHECK_FALSE(scene.state.Alarms().front().Untaken());
  scene.Temperature(11.5).Run(hours{2});
  CHECK(scene.Told() == Lines{"6:15 too warm over"});
  CHECK(scene.state.Alarms().empty());
}

TEST_CASE("over, but untaken: it stays listed until taken") {
  Scene scene = Warm();
  scene.Temperature(11.5).Run(days{1});
  CHECK(scene.Told() == Lines{"6:15 too warm over"});
  REQUIRE(scene.state.Alarms().size() == 1);
  CHECK(scene.state.Alarms().front().over);
  scene.TakeAlarm(AlarmKind::kTooWarm);
  CHECK(scene.Told() == Lines{"29:00 too warm taken"});
  CHECK(scene.state.Alarms().empty());
}

TEST_CASE("taken stops the bell, not the watch: what gets worse asks to be taken again") {
  Scene scene = Warm();
  scene.TakeAlarm(AlarmKind::kTooWarm).Temperature(17).Run(hours{2});
  CHECK(scene.Told() == Lines{"5:00 too warm taken", "5:44 too warm raised severity act"});
  REQUIRE(scene.state.Alarms().size() == 1);
  CHECK(scene.state.Alarms().front().Untaken());
  CHECK(scene.state.Alarms().front().raised == scene.At(hours{4} + minutes{21}));
}

TEST_CASE("set aside until an instant, it comes back then") {
  Scene scene = Warm();
  const std::string id = scene.state.Alarms().front().id;
  scene.Take(AlarmSetAside{id, scene.Now() + hours{1}});
  CHECK(scene.Told() == Lines{"5:00 too warm set aside"});
  CHECK(scene.state.Alarms().front().aside_until == scene.At(hours{6}));
  SECTION("back") {
    scene.Run(hours{1});
    CHECK(scene.Told() == Lines{"6:00 too warm back"});
    CHECK_FALSE(scene.state.Alarms().front().aside_until);
  }
  SECTION("back, found later, when nobody watched") {
    scene.Take(Stopped{}).Wait(hours{5}).Take(Started{});
    CHECK(scene.Told() == Lines{"6:00 too warm back (found later)", "10:00 unwatched raised hint"});
  }
  SECTION("what gets worse does not wait") {
    scene.Temperature(17).Take(AlarmSetAside{id, scene.Now() + hours{9}}).Run(hours{2});
    CHECK(scene.Told() == Lines{"5:00 too warm set aside", "5:44 too warm raised severity act"});
    CHECK_FALSE(scene.state.Alarms().front().aside_until);
  }
  SECTION("an instant that has passed changes nothing") {
    scene.Take(AlarmSetAside{id, scene.Now()});
    CHECK(scene.Told() == Lines{});
  }
}

TEST_CASE("who takes what was set aside ends that: it never asks again, and what is taken is not set aside") {
  Scene scene = Warm();
  const std::string id = scene.state.Alarms().front().id;
  scene.Take(AlarmSetAside{id, scene.Now() + minutes{30}}).Run(minutes{10}).TakeAlarm(AlarmKind::kTooWarm);
  CHECK(scene.Told() == Lines{"5:00 too warm set aside", "5:10 too warm taken"});
  CHECK_FALSE(scene.state.Alarms().front().aside_until);
  scene.Take(AlarmSetAside{id, scene.Now() + minutes{20}}).Run(minutes{40});
  CHECK(scene.Told() == Lines{});
  CHECK(scene.state.Alarms().front().taken == scene.At(hours{5} + minutes{10}));
  SECTION("it gets worse all the same") {
    scene.Run(hours{1});
    CHECK(scene.Told() == Lines{"6:06 too warm raised severity act"});
    CHECK(scene.state.Alarms().front().Untaken());
  }
  SECTION("over, it is gone") {
    scene.Temperature(11.5).Run(hours{2});
    CHECK(scene.state.Alarms().empty());
  }
}

TEST_CASE("who takes what is quiet while a keeper is there leaves it so, and nobody sets it aside afterwards") {
  Scene scene = Warm();
  const std::string id = scene.state.Alarms().front().id;
  scene.Take(KeeperHere{Scene::kFridge}).TakeAlarm(AlarmKind::kTooWarm);
  scene.Take(AlarmSetAside{id, scene.Now() + hours{4}});
  CHECK(scene.Told() == Lines{"5:00 too warm quieted", "5:00 too warm taken"});
  CHECK_FALSE(scene.state.Alarms().front().aside_until);
  scene.Take(KeeperOut{Scene::kFridge});
  CHECK(scene.Told() == Lines{"5:00 too warm stays"});
}

TEST_CASE("who takes an alarm twice, or one that never was, changes nothing") {
  Scene scene = Warm();
  const std::string id = scene.state.Alarms().front().id;
  // Who had tapped it before it rang had seen something else.
  scene.Take(AlarmTaken{id, scene.Now() - days{1}});
  CHECK(scene.Told().empty());
  scene.Take(AlarmTaken{id}).Take(AlarmTaken{id}).Take(AlarmTaken{"too-warm-9-0"}).Take(AlarmTaken{""});
  CHECK(scene.Told() == Lines{"5:00 too warm taken"});
}

TEST_CASE("an alarm that comes again is another one") {
  Scene scene = Warm();
  const std::string first = scene.state.Alarms().front().id;
  CHECK(first == "too-warm-1-" + std::to_string(ToMillis(scene.At(hours{4} + minutes{21}))));
  scene.Temperature(11.5).Run(hours{3}).Temperature(14.5).Run(hours{3});
  const auto alarms = scene.state.Alarms();
  REQUIRE(alarms.size() == 2);
  CHECK(alarms[0].id == first);
  CHECK(alarms[1].id != first);
}

TEST_CASE("the most severe comes first, then the oldest") {
  Scene scene = Warm();
  scene.Humidity(70).Run(hours{3});
  const auto alarms = scene.state.Alarms();
  REQUIRE(alarms.size() == 2);
  CHECK(alarms[0].kind == AlarmKind::kTooDry);
  CHECK(alarms[0].severity == Severity::kAct);
  CHECK(alarms[1].kind == AlarmKind::kTooWarm);
}

TEST_CASE("the words of the enums read back") {
  for (const auto kind :
       {AlarmKind::kTooWarm, AlarmKind::kTooCold, AlarmKind::kTooDry, AlarmKind::kTooDamp, AlarmKind::kProbeSilent}) {
    CHECK(AlarmKindFrom(ToText(kind)) == kind);
  }
  for (const auto severity : {Severity::kHint, Severity::kWatch, Severity::kAct, Severity::kUrgent}) {
    CHECK(SeverityFrom(ToText(severity)) == severity);
  }
  CHECK_FALSE(AlarmKindFrom("too loud"));
  CHECK_FALSE(SeverityFrom(""));
  CHECK(ToText(CaveState::kOutOfBand) == "out of band");
}

}  // namespace rindwatch::rules
