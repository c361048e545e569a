// The limits that a keeper may change.
#include "rules/alarms/settings.hpp"

#include <cmath>
#include <set>

#include "tests/catch.hpp"
#include "tests/rules/alarms/scene.hpp"

namespace rindwatch::rules {

TEST_CASE("every setting stands once, with a unit, bounds of sense around its usual value, and a source") {
  std::set<std::string_view> ids;
  std::set<const double*> fields;
  Settings usual;
  for (const SettingRow& row : SettingRows()) {
    INFO(row.id);
    CHECK(ids.insert(row.id).second);
    CHECK(fields.insert(&(usual.*row.field)).second);
    CHECK_FALSE(row.unit.empty());
    CHECK_FALSE(row.source.empty());
    CHECK(row.least <= usual.*row.field);
    CHECK(usual.*row.field <= row.most);
    CHECK(SettingRowOf(row.id) == &row);
  }
  // None is left out of the list: the struct holds nothing but them.
  CHECK(sizeof(Settings) == SettingRows().size() * sizeof(double));
}

TEST_CASE("an unknown setting, a figure without sense and one that is no number change nothing") {
  const Settings usual;
  CHECK(SettingsWith({{"too warm: no such thing", 5}}) == usual);
  CHECK(SettingsWith({{"too warm: watch after", -1}}) == usual);
  CHECK(SettingsWith({{"too warm: watch after", 1e9}}) == usual);
  CHECK(SettingsWith({{"too warm: watch after", std::nan("")}}) == usual);
  CHECK(SettingsWith({{"too warm: watch after", 90}, {"too warm: watch after", 30}}).warm_watch_after == 30);
}

TEST_CASE("a cave rings by its own limits") {
  Scene scene;
  CaveGiven given{Scene::kFridge, {}, DayTurn{}, {}, {}};
  given.own = scene.own;
  given.own.emplace_back("too warm: watch after", 120);
  scene.Take(given).Lay(1, Scene::kFridge, Pressed(), 2000).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(15.2).Humidity(85).Run(hours{4});
  CHECK(scene.Told() == std::vector<std::string>{"2:30 too warm raised watch"});
}

}  // namespace rindwatch::rules
