// The days that count for the law, from the readings of a fridge to the page of a wheel and to its release.
#include "daemon/api/qualifying_json.hpp"

#include "tests/catch.hpp"
#include "tests/daemon/api/watched_fridge.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

json::object ThreeDays() {
  return {{"name", "3 days at 1.7 °C or more"}, {"start", "made"}, {"min_celsius", 5.0 / 3}, {"min_days", 3},
          {"not_counting", json::array{}},      {"vouching", true}};
}

// Two wheels made today, in a fridge with a probe; and the days after, recorded or not.
struct RawMilk {
  TempFolder folder;
  Household house{folder / "rind.db", kThursday};

  RawMilk() {
    house.Begin();
    house.Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
    house.Do("enter", PressedWheels(2, InCave(1), 0));
    house.Do("rule", {{"wheels", {1, 2}}, {"rule", ThreeDays()}});
  }
  // A reading each ten minutes until so many hours from now; air that is alive is never twice the same.
  void Read(double temperature, int hours, double stirs = 0.05) {
    const rules::Instant end = house.Now() + std::chrono::hours{hours};
    while (house.Now() < end) {
      house.StepTo(house.Now() + 10min);
      stirs = -stirs;
      house.Reads(temperature + stirs, 85 + 2 * stirs);
    }
  }
  void Silent(int hours) { house.StepTo(house.Now() + std::chrono::hours{hours}); }
  json::object Qualifying(int wheel = 1) {
    const json::object page = house.See("/api/wheels/" + std::to_string(wheel));
    return page.at("wheel").as_object().at("qualifying").as_object();
  }
  int Post(const char* kind, json::object fields) {
    return house.Post(house.Act(kind, std::move(fields)), house.Now()).status;
  }
};

int Sum(const json::object& qualifying, const char* name) { return qualifying.at(name).to_number<int>(); }
std::string Is(const json::object& qualifying, std::size_t day) {
  return std::string(qualifying.at("days").as_array().at(day).at("is").as_string());
}

TEST_CASE("days are proven, missing or unproven by what was recorded around the wheel") {
  RawMilk cellar;
  cellar.Read(12, 18);  // Thursday, entered at 09:00: the hours before it are not known
  cellar.Read(12, 24);  // Friday
  cellar.Read(12, 2);   // Saturday, with half a day of frost: an hour would not reach the wheel
  cellar.Read(0.5, 14);
  cellar.Read(12, 8);
  cellar.Read(12, 8);  // Sunday, with nothing said for eight hours
  cellar.Silent(8);
  cellar.Read(12, 9);
  const json::object qualifying = cellar.Qualifying();
  REQUIRE(qualifying.at("days").as_array().size() == 4);
  CHECK(Is(qualifying, 0) == "unproven");
  CHECK(Is(qualifying, 1) == "proven");
  CHECK(Is(qualifying, 2) == "missing");
  CHECK(Is(qualifying, 3) == "unproven");
  CHECK(Sum(qualifying, "proven") == 1);
  CHECK(Sum(qualifying, "missing") == 1);
  CHECK(Sum(qualifying, "unproven") == 2);
  CHECK(Sum(qualifying, "counted") == 1);
  CHECK(Sum(qualifying, "of") == 3);
  CHECK_FALSE(qualifying.at("reached").as_bool());
  CHECK(qualifying.at("earliest").as_string() == "2026-03-18");  // Monday and Tuesday still to come
  CHECK(qualifying.at("days").as_array()[2].at("low").to_number<double>() < 1.7);
}

TEST_CASE("what a stuck probe says proves no day") {
  RawMilk cellar;
  cellar.Read(12, 18 + 24);
  cellar.Read(12, 24, 0);  // Saturday: the same to the last digit, all day
  cellar.Read(12, 25);
  const json::object qualifying = cellar.Qualifying();
  CHECK(Is(qualifying, 1) == "proven");
  CHECK(Is(qualifying, 2) == "unproven");
  CHECK(Is(qualifying, 3) == "proven");
}

TEST_CASE("a vouched day counts, release is locked until the rule is reached, an override needs name and reason") {
  RawMilk cellar;
  cellar.Read(12, 18 + 24);
  cellar.Silent(24);
  cellar.Read(12, 4);
  CHECK(Sum(cellar.Qualifying(), "counted") == 1);
  CHECK(cellar.Post("release", {{"wheels", {1}}}) == 422);
  const auto vouch = [&](const char* from, const char* to, const char* name) {
    return cellar.Post(
        "vouch", {{"wheels", {1}}, {"from", from}, {"to", to}, {"name", name}, {"reason", "door shut, no frost"}});
  };
  CHECK(vouch("2026-03-13", "2026-03-13", "TR") == 422);  // recorded
  CHECK(vouch("2026-03-12", "2026-03-12", "") == 422);
  CHECK(vouch("2026-03-12", "2026-03-12", "TR") == 200);
  json::object qualifying = cellar.Qualifying();
  CHECK(Sum(qualifying, "vouched") == 1);
  CHECK(Sum(qualifying, "counted") == 2);
  CHECK(qualifying.at("vouches").as_array()[0].at("name").as_string() == "TR");
  CHECK(Sum(cellar.Qualifying(2), "vouched") == 0);
  CHECK(cellar.Post("release", {{"wheels", {1}}}) == 422);
  CHECK(cellar.Post("release", {{"wheels", {1}}, {"override", {{"name", "IH"}, {"reason", ""}}}}) == 422);
  CHECK(vouch("2026-03-14", "2026-03-14", "TR") == 200);
  CHECK(cellar.Qualifying().at("reached").as_bool());
  CHECK(cellar.Post("release", {{"wheels", {1}}}) == 200);
  CHECK(cellar.Qualifying().contains("released"));
  CHECK(cellar.Post("release", {{"wheels", {2}}, {"override", {{"name", "IH"}, {"reason", "to the laboratory"}}}}) ==
        200);
  qualifying = cellar.Qualifying(2);
  CHECK(qualifying.at("released").at("override").at("name").as_string() == "IH");
}

TEST_CASE("a wheel that lay where nobody watches proves nothing; one without a rule shows none") {
  RawMilk cellar;
  cellar.house.Do("enter", PressedWheels(1, NewCave("counter"), 0));
  cellar.house.Do("rule", {{"wheels", {3}}, {"rule", ThreeDays()}});
  cellar.house.Do("enter", PressedWheels(1, InCave(1), 0));
  cellar.Read(12, 20 + 24);
  const json::object qualifying = cellar.Qualifying(3);
  CHECK(Sum(qualifying, "unproven") == 2);
  CHECK(Sum(qualifying, "proven") == 0);
  CHECK_FALSE(cellar.house.See("/api/wheels/4").at("wheel").as_object().contains("qualifying"));
}

TEST_CASE("the list of wheels has the sums, the page of each its days") {
  RawMilk cellar;
  cellar.Read(12, 20 + 24);
  const json::array wheels = cellar.house.See("/api/wheels").at("wheels").as_array();
  REQUIRE(wheels.size() == 2);
  CHECK(Sum(wheels[0].at("qualifying").as_object(), "counted") == 1);
  CHECK(wheels[0].at("qualifying").at("days").as_array().empty());
}

TEST_CASE("a window that closes before the lawful day is told, and what is not known is no reason to") {
  const rules::Date day = rules::MakeDate(2026, 5, 1);
  CHECK(ClosesBeforeLawful(day, day - std::chrono::days{1}));
  CHECK_FALSE(ClosesBeforeLawful(day, day));
  CHECK_FALSE(ClosesBeforeLawful(std::nullopt, day));
  CHECK_FALSE(ClosesBeforeLawful(day, std::nullopt));
  RawMilk cellar;
  json::object bloomy = PressedWheels(1, InCave(1), 0);
  bloomy["plan"] = "bloomy";
  cellar.house.Do("enter", bloomy);
  json::object sixty = ThreeDays();
  sixty["min_days"] = 90;
  cellar.house.Do("rule", {{"wheels", {3}}, {"rule", sixty}});
  CHECK(cellar.house.See("/api/fit?plan=bloomy&cave=1&made=2026-03-12").at("lawful_after_ready").as_bool());
  // The rule that is typed with the very wheel, wherever it is to lie.
  const std::string rule =
      R"(&rule={"name":"60 days","start":"made","min_days":60,"not_counting":[],"vouching":false})";
  CHECK(cellar.house.See("/api/fit?plan=lactic&made=2026-03-12" + rule).at("lawful_after_ready").as_bool());
  CHECK_FALSE(cellar.house.See("/api/fit?plan=lactic&made=2026-03-12").at("lawful_after_ready").as_bool());
  CHECK_FALSE(cellar.house.See("/api/fit?plan=hard-grating&made=2026-03-12" + rule).at("lawful_after_ready").as_bool());
  CHECK_FALSE(
      cellar.house.See("/api/fit?plan=pressed-semi-hard&cave=1&made=2026-03-12").at("lawful_after_ready").as_bool());
  CHECK(cellar.Qualifying(3).at("lawful_after_ready").as_bool());
}

TEST_CASE("where its life tells of the cold, a wheel's page says which days do not count") {
  WatchedFridge cellar;
  json::object ten = ThreeDays();
  ten["min_celsius"] = 10;
  cellar.house.Do("rule", {{"wheels", {1}}, {"rule", ten}});
  cellar.Read(12, 6h);
  cellar.Read(3, 40h);
  cellar.Read(12, 24h);
  const auto cold = [&](int wheel) {
    const json::object page = cellar.house.See("/api/wheels/" + std::to_string(wheel));
    for (const json::value& one : page.at("excursions").as_array())
      if (one.at("kind").as_string() == "too cold") return one.as_object();
    throw std::runtime_error("no cold");
  };
  const json::object ruled = cold(1);
  REQUIRE(ruled.contains("uncounted"));
  CHECK(ruled.at("uncounted").as_array().front().as_string() == "2026-03-12");
  CHECK_FALSE(cold(2).contains("uncounted"));
}

}  // namespace
}  // namespace rindwatch
