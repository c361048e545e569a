// The table of transitions, whole, against the states and transitions of the standard
// (tests/reference/alarm_practice.csv, letters as there), and each of its rows as it is met in the engine.
#include "rules/alarms/life.hpp"

#include <map>
#include <set>

#include "tests/catch.hpp"
#include "tests/rules/air/table.hpp"
#include "tests/rules/alarms/scene.hpp"

namespace rindwatch::rules::watch {
namespace {

char LetterOf(Life life) {
  switch (life) {
    case Life::kNormal:
      return 'A';
    case Life::kUnacknowledged:
      return 'B';
    case Life::kAcknowledged:
      return 'C';
    case Life::kReturned:
      return 'D';
    case Life::kShelved:
      return 'G';
    case Life::kSuppressed:
      return 'H';
    case Life::kOutOfService:
      return 'I';
  }
  return '?';
}

// A row a state, a column an event in the order of LifeEvent: raise, worsen, take, return, shelve, unshelve, suppress,
// unsuppress, remove, restore. A dot: nothing happens.
const std::map<char, std::string> kUntaken = {{'A', "B.....H.I."}, {'B', ".BCDG.H.I."}, {'C', ".B.A..H.I."},
                                              {'D', "..A......."}, {'G', ".BCDGB..I."}, {'H', ".BHDG..BI."},
                                              {'I', ".........A"}};
// What had been taken before it was quieted comes back as taken, is gone when it returns, and is not set aside.
const std::map<char, std::string> kTaken = {{'H', ".BHA...CI."}};

}  // namespace

TEST_CASE("each event in each state leads where the standard's diagram leads, or changes nothing") {
  for (const bool taken : {false, true}) {
    for (const Life from : kLives) {
      const char letter = LetterOf(from);
      const auto& row = taken && kTaken.count(letter) ? kTaken.at(letter) : kUntaken.at(letter);
      for (std::size_t i = 0; i < std::size(kLifeEvents); ++i) {
        INFO(letter << ", event " << i << (taken ? ", taken" : ""));
        const auto to = After(from, kLifeEvents[i], taken);
        CHECK((to ? LetterOf(*to) : '.') == row[i]);
      }
    }
  }
}

TEST_CASE("the states are those of the standard, without the latched ones") {
  std::set<std::string> standard, ours;
  for (const Row& row : ReadTable("alarm_practice.csv")) {
    if (row.at("kind") == "alarm_state") standard.insert(row.at("item"));
  }
  for (const Life life : kLives) ours.insert(std::string(1, LetterOf(life)));
  ours.insert({"E", "F"});  // latched: nothing here has to be reset
  CHECK(standard == ours);
}

TEST_CASE("from every state normal is reached again, and no state but normal raises") {
  for (const Life from : kLives) {
    std::set<Life> reached{from};
    for (std::size_t before = 0; before != reached.size();) {
      before = reached.size();
      for (const Life life : std::set<Life>(reached)) {
        for (const LifeEvent event : kLifeEvents) {
          if (const auto to = After(life, event, false)) reached.insert(*to);
        }
      }
    }
    CHECK(reached.count(Life::kNormal) == 1);
    CHECK(After(from, LifeEvent::kRaise, false).has_value() == (from == Life::kNormal));
  }
}

}  // namespace rindwatch::rules::watch

namespace rindwatch::rules {
namespace {

Scene Warm() {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(15.2).Humidity(85).Run(hours{3});
  return scene;
}

}  // namespace

TEST_CASE("I am here quiets what stands below urgent, and the end of it brings it back") {
  Scene scene = Warm();
  CHECK(scene.Told() == std::vector<std::string>{"1:30 too warm raised watch"});
  scene.Take(KeeperHere{Scene::kFridge});
  CHECK(scene.Told() == std::vector<std::string>{"3:00 too warm quieted"});
  CHECK_FALSE(scene.state.Alarms().front().Rings());
  REQUIRE(scene.View().quiet_until);
  CHECK(*scene.View().quiet_until == scene.At(hours{4}));
  scene.Run(minutes{59});
  CHECK(scene.Told().empty());
  scene.Run(minutes{2});
  CHECK(scene.Told() == std::vector<std::string>{"4:00 too warm back"});
  CHECK(scene.state.Alarms().front().Rings());
}

TEST_CASE("what is quiet stays so while one of two keepers goes, and comes back when the other does") {
  Scene scene = Warm();
  scene.Take(KeeperHere{Scene::kFridge, "IH"}).Take(KeeperHere{Scene::kFridge, "TR"}).Told();
  scene.Take(KeeperOut{Scene::kFridge, "IH"});
  CHECK(scene.Told().empty());
  scene.Take(KeeperOut{Scene::kFridge, "TR"});
  CHECK(scene.Told() == std::vector<std::string>{"3:00 too warm back"});
}

TEST_CASE("I am out ends the quiet at once") {
  Scene scene = Warm();
  scene.Take(KeeperHere{Scene::kFridge}).Run(minutes{10}).Take(KeeperOut{Scene::kFridge});
  CHECK(scene.Told() ==
        std::vector<std::string>{"1:30 too warm raised watch", "3:00 too warm quieted", "3:10 too warm back"});
  CHECK_FALSE(scene.View().quiet_until);
}

TEST_CASE("what got worse while a keeper was there asks again, also if the lesser thing was taken or set aside") {
  for (const bool taken : {true, false}) {
    CAPTURE(taken);
    Scene scene = Warm();
    scene.Temperature(17.2).Run(minutes{150});
    REQUIRE(scene.state.Alarms().front().severity == Severity::kWatch);
    if (taken)
      scene.TakeAlarm(AlarmKind::kTooWarm);
    else
      scene.Take(AlarmSetAside{scene.state.Alarms().front().id, scene.Now() + hours{20}});
    scene.Take(KeeperHere{Scene::kFridge});
    scene.Run(minutes{50});
    REQUIRE(scene.state.Alarms().front().severity == Severity::kAct);
    CHECK_FALSE(scene.state.Alarms().front().Rings());
    scene.Told();
    scene.Take(KeeperOut{Scene::kFridge});
    CHECK(scene.Told() == std::vector<std::string>{"6:20 too warm back"});
    CHECK(scene.state.Alarms().front().Rings());
  }
}

TEST_CASE("an alarm carries the limits in force, which the first steps go by") {
  Scene scene = Warm();
  CHECK(scene.state.Alarms().front().band == Figure{10.5, 14.5, ""});
  scene.Give(Scene::kFridge, {}, Figure{10, 12, "typed"}).Run(minutes{5});
  CHECK(scene.state.Alarms().front().band == Figure{10, 12, "typed"});
}

TEST_CASE("while a keeper is there nothing new of the air is raised below urgent, but gas is, at once") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
  scene.HangChannel(19, Scene::kProbe, ChannelKind::kCarbonDioxide, Scene::kFridge);
  scene.Temperature(15.2).Humidity(85).Run(minutes{70}).Take(KeeperHere{Scene::kFridge});
  scene.Say(19, 16'000).Run(minutes{30});
  CHECK(scene.Told() == std::vector<std::string>{"1:11 carbon dioxide raised urgent"});
}

TEST_CASE("a kind that is out of service is not judged, and what stood of it ends") {
  Scene scene = Warm();
  scene.Told();
  CaveGiven given{Scene::kFridge, {}, DayTurn{}, {}, {}, scene.own};
  given.out_of_service = {AlarmKind::kTooWarm};
  scene.Take(given);
  CHECK(scene.decisions.back().alarm.ending == Ending::kStruck);
  CHECK(scene.decisions.back().alarm.why == Why::kBand);
  CHECK_FALSE(scene.decisions.back().alarm.back_since);
  CHECK(scene.Told() == std::vector<std::string>{"3:00 too warm over"});
  scene.Run(hours{4});
  CHECK(scene.Told().empty());
  given.out_of_service = {};
  scene.Take(given).Run(hours{2});
  CHECK(scene.Told() == std::vector<std::string>{"7:01 too warm raised watch"});
}

}  // namespace rindwatch::rules
