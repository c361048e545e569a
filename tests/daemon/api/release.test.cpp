// Letting a wheel go, judged by what was recorded around it.
#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

// A pressed wheel in a box with a probe, under a rule of two days at 10 degrees or more from the entry into the box.
struct RuledHouse {
  TempFolder folder;
  Household house{folder / "rind.db", kThursday};

  RuledHouse() {
    house.Begin();
    house.Do("probe", AirProbe("Box air", "box/air", NewCave("box")));
    house.Do("enter", InTheBox(PressedWheels(1, InCave(1), 3), 0));
    house.Do("rule", {{"wheels", Ids({1})},
                      {"rule",
                       {{"name", "2 days at 10 °C or more"},
                        {"start", "entered box"},
                        {"min_celsius", 10},
                        {"min_days", 2},
                        {"not_counting", json::array{}},
                        {"vouching", true}}}});
  }
  void Live(double temperature, rules::Millis span) {
    const rules::Instant end = house.Now() + span;
    // The same to the last digit all day would be a stuck probe.
    for (double stirs = 0.05; house.Now() < end; stirs = -stirs) {
      house.StepTo(house.Now() + 15min);
      house.Reads(temperature + stirs, 92 + 2 * stirs);
    }
  }
  web::Response Release(json::object more = {}) {
    more["wheels"] = Ids({1});
    return house.Post(house.Act("release", std::move(more)), house.Now());
  }
  std::string State() {
    const json::object page = house.See("/api/wheels/1");
    return std::string(page.at("wheel").as_object().at("state").as_string());
  }
};

TEST_CASE("a wheel whose days were recorded and warm enough is let go, and not before") {
  RuledHouse ruled;
  ruled.Live(12, 24h);
  const web::Response early = ruled.Release();
  CHECK(early.status == 422);
  CHECK_THAT(early.body, Says("short: "));
  CHECK(ruled.State() != "released");
  ruled.Live(12, 48h);
  const web::Response response = ruled.Release();
  CHECK(response.status == 200);
  CHECK(ruled.State() == "released");
}

TEST_CASE("days that were too cold are missing, and nobody can stand for them") {
  RuledHouse ruled;
  ruled.Live(6, 72h);
  CHECK_THAT(ruled.Release().body, Says("too cold"));
  const web::Response vouch = ruled.house.Post(ruled.house.Act("vouch", {{"wheels", Ids({1})},
                                                                         {"from", DaysAgo(-1)},
                                                                         {"to", DaysAgo(-1)},
                                                                         {"name", "IH"},
                                                                         {"reason", "it was warm"}}),
                                               ruled.house.Now());
  CHECK(vouch.status == 422);
  CHECK_THAT(vouch.body, Says("no day to vouch for"));
  CHECK(ruled.Release({{"override", {{"name", "IH"}, {"reason", "own table"}}}}).status == 200);
  CHECK(ruled.State() == "released");
}

TEST_CASE("a keeper stands for days of which nothing was recorded") {
  RuledHouse ruled;
  ruled.house.StepTo(kThursday + 72h);
  CHECK_THAT(ruled.Release().body, Says("nothing was recorded"));
  ruled.house.Do("vouch", {{"wheels", Ids({1})},
                           {"from", DaysAgo(0)},
                           {"to", DaysAgo(-2)},
                           {"name", "IH"},
                           {"reason", "thermometer in the box"}});
  CHECK(ruled.Release().status == 200);
}

}  // namespace
}  // namespace rindwatch
