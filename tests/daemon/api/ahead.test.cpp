// What the house tells beyond today, on a fridge with a box of washed pressed wheels and bloomies beside it.
#include <algorithm>

#include "daemon/api/ahead_views.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

json::array List(const json::object& object, const char* name) { return object.at(name).as_array(); }
std::string Text(const json::value& object, const char* name) { return std::string(object.at(name).as_string()); }

// Three pressed wheels in a box, in their first week or older; six bloomies beside it; one drying on the counter.
struct Cellar {
  TempFolder folder;
  Household house{folder / "rind.db", kThursday};

  explicit Cellar(int pressed_days = 40) {
    house.Begin();
    house.Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
    house.Do("enter", InTheBox(PressedWheels(3, NewCaveIn("box", 1), pressed_days), pressed_days - 3));
    json::object bloomies = PressedWheels(6, InCave(1), 20);
    bloomies["plan"] = "bloomy";
    bloomies["lot"] = "221";
    bloomies["grams"] = 250;
    house.Do("enter", bloomies);
  }
};

TEST_CASE("an absence: visits inside the windows, what to do before leaving, who does without") {
  Cellar cellar;
  const json::object plan = cellar.house.See("/api/away?from=2026-03-13&back=2026-03-22");
  CHECK(Text(plan, "from") == "2026-03-13");
  // Bloomies in paper are turned every second day, give or take one.
  const json::array visits = List(plan, "visits");
  REQUIRE(visits.size() >= 2);
  for (const json::value& visit : visits) {
    CHECK(Text(visit, "day") >= "2026-03-13");
    CHECK(Text(visit, "day") < "2026-03-22");
    CHECK(visit.at("minutes").to_number<int>() >= 1);
    for (const json::value& line : visit.at("lines").as_array()) {
      // A helper turns; no washing.
      CHECK(json::serialize(line.at("kinds")) == R"(["turn"])");
    }
  }
  // White before pressed: another kind of rind, where gloves are changed.
  bool changes = false;
  for (const json::value& visit : visits) {
    const json::array& lines = visit.at("lines").as_array();
    if (lines.size() < 2) continue;
    CHECK(Text(lines[0], "rind") == "fresh and white");
    CHECK(lines[0].at("age_group").as_int64() >= 0);
    CHECK(lines[0].at("rind") != lines[1].at("rind"));
    CHECK(lines[1].at("box").as_bool());
    changes = true;
  }
  CHECK(changes);
  bool wash = false, lid = false;
  for (const json::value& line : List(plan, "before")) {
    wash = wash || json::serialize(line.at("kinds")) == R"(["wash","turn"])";
    lid = lid || line.as_object().contains("lid");
  }
  CHECK(lid);
  CHECK(wash);
  CHECK(List(plan, "lanes").size() == 2);
  for (const json::value& lane : List(plan, "lanes")) {
    for (const json::value& window : lane.at("windows").as_array()) {
      if (!window.as_object().contains("visit")) continue;
      const std::string visit = Text(window, "visit");
      CHECK(std::ranges::any_of(visits, [&](const json::value& one) { return Text(one, "day") == visit; }));
      CHECK(Text(window, "from") <= visit);
      CHECK(visit <= Text(window, "to"));
    }
  }
  CHECK_FALSE(List(plan, "no_visit").empty());
  CHECK(json::serialize(plan.at("normal")).find("sheet.normal.white") != std::string::npos);
}

TEST_CASE("an absence of one cave asks only for what lies in it") {
  Cellar cellar;
  const json::object plan = cellar.house.See("/api/away?from=2026-03-13&back=2026-03-22&caves=1");
  for (const json::value& lane : List(plan, "lanes")) CHECK(lane.at("cave").to_number<int>() == 1);
}

TEST_CASE("a question that names no day, no cave or no span is answered with what is wrong") {
  Cellar cellar;
  for (const char* question :
       {"/api/away", "/api/away?from=2026-03-13", "/api/away?from=2026-03-13&back=2026-03-13",
        "/api/away?from=2026-03-13&back=2027-03-13", "/api/away?from=soon&back=2026-03-13",
        "/api/away?from=2026-03-13&back=2026-03-15&caves=9", "/api/returned?from=2026-03-13&back=2026-03-12",
        "/api/ahead?weeks=0", "/api/ahead?weeks=1000", "/api/ahead?wanted=never", "/api/fit",
        "/api/fit?plan=bloomy&rule=60", "/api/fit?plan=bloomy&rule={}", "/api/fit?plan=none&cave=1",
        "/api/fit?plan=bloomy&cave=77"}) {
    CAPTURE(question);
    CHECK(cellar.house.Get(question).status == 400);
  }
}

TEST_CASE("on the return: what was done, what was not, the fridge's extremes, and what stays unknown") {
  Cellar cellar;
  Household& house = cellar.house;
  house.Do("care", Care({1, 2, 3}, {"wash", "turn"}));
  house.Do("care", Care({4, 5, 6, 7, 8, 9}, {"turn"}));
  house.StepTo(kThursday + 24h);
  for (int n = 0; n < 12; ++n) {
    house.StepTo(house.Now() + 10min);
    house.Reads(n == 5 ? 9.0 : 12.0, 80);
  }
  house.Do("care", Care({1, 2, 3}, {"turn"}));
  house.StepTo(kThursday + 24h * 6);
  const json::object page = house.See("/api/returned?from=2026-03-13&back=2026-03-18");
  REQUIRE(List(page, "done").size() == 1);
  CHECK(json::serialize(List(page, "done")[0].at("kinds")) == R"(["turn"])");
  CHECK(List(page, "done")[0].at("count").to_number<int>() == 3);
  CHECK_FALSE(List(page, "not_visited").empty());
  for (const json::value& line : List(page, "not_visited")) {
    CHECK(Text(line, "due") >= "2026-03-13");
    CHECK(Text(line, "due") < "2026-03-18");
  }
  REQUIRE(List(page, "caves").size() == 1);
  const json::value fridge = List(page, "caves")[0];
  CHECK(fridge.at("low").to_number<double>() < 12);
  CHECK(fridge.at("high").to_number<double>() == Approx(12));
  // Two hours of five days were recorded.
  CHECK(fridge.at("unknown_hours").to_number<double>() == Approx(118).margin(0.5));
}

TEST_CASE("ahead: the weeks from this Monday on, the days that are over, and when what is ready") {
  Cellar cellar;
  const json::object page = cellar.house.See("/api/ahead?weeks=9");
  const json::array weeks = List(page, "weeks");
  REQUIRE(weeks.size() == 9);
  CHECK(Text(weeks[0], "monday") == "2026-03-09");
  CHECK(Text(weeks[8], "monday") == "2026-05-04");
  const json::array& minutes = weeks[0].at("minutes").as_array();
  for (std::size_t day = 0; day < 3; ++day) CHECK(minutes[day].to_number<int>() == -1);
  CHECK(minutes[3].to_number<int>() >= 0);
  int most = 0;
  bool bloomies = false, eaten = false;
  for (const json::value& week : weeks) {
    for (const json::value& day : week.at("minutes").as_array()) most = std::max(most, day.to_number<int>());
    for (const json::value& ready : week.at("ready").as_array()) {
      if (ready.at("lot").as_string() == "221") {
        bloomies = true;
        CHECK(ready.at("wheels").as_array().size() == 6);
        CHECK(Text(week, "monday") <= Text(ready, "from"));
      }
    }
    for (const json::value& by : week.at("eat_by").as_array()) eaten = eaten || by.at("lot").as_string() == "221";
  }
  CHECK(bloomies);
  CHECK(eaten);
  CHECK(page.at("busiest").at("minutes").to_number<int>() == most);
}

TEST_CASE("from a wanted day back to the make") {
  Cellar cellar;
  const json::object wanted = cellar.house.See("/api/ahead?weeks=9&wanted=2026-04-05").at("wanted").as_object();
  CHECK(wanted.at("ready").to_number<int>() >= 6);
  bool bloomy = false;
  for (const json::value& make : List(wanted, "make")) {
    if (Text(make, "plan") != "bloomy") continue;
    bloomy = true;
    CHECK(make.at("possible").as_bool());
    CHECK(Text(make, "to") == "2026-03-15");  // 21 days before
  }
  CHECK(bloomy);
}

TEST_CASE("who would not suit whom: what all could keep, and what helps") {
  Cellar cellar;
  const json::object fit = cellar.house.See("/api/fit?plan=pressed-semi-hard&cave=1");
  CHECK(fit.at("shared").as_object().contains("temperature"));
  CHECK_FALSE(fit.at("lawful_after_ready").as_bool());
  for (const json::value& advice : List(fit, "advice")) CHECK(advice.as_string().ends_with("."));
}

}  // namespace
}  // namespace rindwatch
