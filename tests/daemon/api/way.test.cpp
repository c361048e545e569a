// What is shown of days to come, wherever it is shown: a wheel's head, its line, the list, the week ahead, the round.
#include <algorithm>

#include "daemon/api/ahead_views.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

std::string Text(const json::value& object, const char* name) { return std::string(object.at(name).as_string()); }

// The stage of the line that holds a day.
const json::object* StageOn(const json::array& stages, const std::string& day) {
  for (const json::value& stage : stages) {
    const json::object& one = stage.as_object();
    if (Text(one, "from") <= day && (!one.contains("to") || day <= Text(one, "to"))) return &one;
  }
  return nullptr;
}

bool BeginsWith(const json::array& stages, const std::string& day) {
  return std::ranges::any_of(stages, [&](const json::value& stage) { return Text(stage, "from") == day; });
}

// The windows of a wheel in the weeks ahead, "2026-03-20 to 2026-04-10", each once.
std::vector<std::string> WindowsAhead(const json::object& ahead, std::int64_t wheel) {
  std::vector<std::string> windows;
  for (const json::value& week : ahead.at("weeks").as_array()) {
    for (const json::value& ready : week.at("ready").as_array()) {
      const auto& wheels = ready.at("wheels").as_array();
      if (std::ranges::find(wheels, json::value(wheel)) == wheels.end()) continue;
      windows.push_back(Text(ready, "from") + " to " + Text(ready, "to"));
    }
  }
  return windows;
}

json::object Made(const char* plan, int days_ago, json::array starts = {}) {
  json::object enter = PressedWheels(1, NewCave("room"), days_ago);
  enter["plan"] = plan;
  enter["starts"] = std::move(starts);
  return enter;
}

json::array InTheCave(int days_ago) {
  return {{{"start", "entered cave"}, {"day", DaysAgo(days_ago)}, {"reckoned", false}}};
}

}  // namespace

TEST_CASE("a wheel that is given another plan late stands where its age puts it, wherever one looks") {
  const TempFolder folder;
  Household house{folder / "rind.db", kThursday};
  house.Begin();
  house.Do("enter", Made("natural-tomme", 46, InTheCave(42)));
  house.Do("plan", {{"wheels", Ids({1})}, {"plan", "washed-curd"}, {"version", 1}});
  const json::object page = house.See("/api/wheels/1");
  const json::object& wheel = page.at("wheel").as_object();
  const std::string today = Text(page.at("head"), "day");
  CHECK(Text(wheel, "stage") == "main");
  CHECK(Text(wheel.at("counts_from"), "start") == "dry");
  CHECK(Text(wheel.at("counts_from"), "day") == DaysAgo(42));
  CHECK_FALSE(wheel.at("counts_from").at("reckoned").as_bool());
  const json::array& stages = page.at("stages").as_array();
  const json::object* now = StageOn(stages, today);
  REQUIRE(now);
  CHECK(Text(*now, "name") == "main");
  CHECK(Text(*now, "from") == today);
  CHECK(Text(*now, "family") == "Washed curd");
  // What lies behind was lived as a tomme.
  CHECK(Text(stages.front(), "name") == "drying rest");
  const json::object round = house.See("/api/round");
  for (const json::value& question : round.at("questions").as_array()) CHECK(Text(question, "kind") == "branch");
  const auto windows = WindowsAhead(house.See("/api/ahead?weeks=9"), 1);
  CHECK(std::ranges::find(windows, Text(wheel.at("ready"), "from") + " to " + Text(wheel.at("ready"), "to")) !=
        windows.end());
}

TEST_CASE("head, line, list and the weeks ahead name the same days") {
  struct Row {
    const char* plan;
    int age;
    json::array starts;
  };
  const std::vector<Row> rows{{"bloomy", 7, {}},        {"bloomy", 10, {}},
                              {"natural-tomme", 1, {}}, {"natural-tomme", 20, InTheCave(18)},
                              {"waxed", 3, {}},         {"brined", 5, {}}};
  for (const Row& row : rows) {
    INFO(row.plan << ", day " << row.age);
    const TempFolder folder;
    Household house{folder / "rind.db", kThursday};
    house.Begin();
    house.Do("enter", Made(row.plan, row.age, row.starts));
    const json::object page = house.See("/api/wheels/1");
    const json::object& wheel = page.at("wheel").as_object();
    const json::array& stages = page.at("stages").as_array();
    const std::string today = Text(page.at("head"), "day");
    const json::object* now = StageOn(stages, today);
    REQUIRE(now);
    CHECK(Text(*now, "name") == Text(wheel, "stage"));
    const std::string from = Text(wheel.at("ready"), "from");
    CHECK(BeginsWith(stages, from));
    const json::object listed = house.See("/api/wheels").at("wheels").as_array().front().as_object();
    CHECK(listed.at("ready") == wheel.at("ready"));
    CHECK(WindowsAhead(house.See("/api/ahead?weeks=20"), 1) ==
          std::vector<std::string>{from + " to " + Text(wheel.at("ready"), "to")});
  }
}

TEST_CASE("while nobody chose a road its head tells of both, and the list of the weeks as well") {
  const TempFolder folder;
  Household house{folder / "rind.db", kThursday};
  house.Begin();
  house.Do("enter", Made("lactic", 9, InTheCave(6)));
  const json::object page = house.See("/api/wheels/1");
  const json::object& ready = page.at("wheel").at("ready").as_object();
  CHECK(Text(ready, "from") == DaysAgo(9 - 20));
  CHECK(Text(ready.at("young"), "from") == DaysAgo(9 - 10));
  CHECK(WindowsAhead(house.See("/api/ahead?weeks=9"), 1).size() == 2);
  house.Do("answer", {{"wheels", Ids({1})}, {"option", "keep on"}});
  const json::object kept = house.See("/api/wheels/1");
  CHECK_FALSE(kept.at("wheel").at("ready").as_object().contains("young"));
  CHECK(WindowsAhead(house.See("/api/ahead?weeks=9"), 1).size() == 1);
}

TEST_CASE("before a wheel is put anywhere it is said whom it will not suit later, and from when on") {
  const TempFolder folder;
  Household house{folder / "rind.db", kThursday};
  house.Begin();
  json::object bloomies = PressedWheels(2, NewCave("room"), 5);
  bloomies["plan"] = "bloomy";
  house.Do("enter", bloomies);
  // They want it cold once they are in paper, on day 12.
  const json::object fit = house.See("/api/fit?plan=hard-grating&cave=1&made=" + DaysAgo(60));
  const json::array& later = fit.at("later").as_array();
  CHECK(fit.at("costs").as_array().empty());
  REQUIRE_FALSE(later.empty());
  for (const json::value& cost : later) CHECK(Text(cost, "from") > Text(fit.at("head"), "day"));
}

}  // namespace rindwatch
