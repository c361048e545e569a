// A fridge with a probe and six small wheels in it, and what its answers say.
#pragma once

#include <algorithm>
#include <string>

#include "tests/catch.hpp"
#include "tests/daemon/api/answers.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch::testing {

// A fridge with a probe and six small wheels in it.
struct WatchedFridge {
  TempFolder folder;
  Household house{folder / "rind.db", kThursday};

  WatchedFridge() {
    house.Begin();
    house.Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
    json::object bloomies = PressedWheels(6, InCave(1), 8);
    bloomies["plan"] = "bloomy";
    bloomies["grams"] = 250;
    house.Do("enter", bloomies);
  }
  void Read(double temperature, rules::Millis span) {
    const rules::Instant end = house.Now() + span;
    while (house.Now() < end) {
      house.StepTo(house.Now() + 5min);
      // A value that never moves is a probe that is stuck.
      ++said;
      house.Reads(temperature + 0.05 * (said % 3), damp + said % 3);
    }
  }
  int said = 0;
  double damp = 91;
  std::string Ring() {
    Read(12, 3h);
    Read(17, 4h);
    const json::array alarms = Part(house.See("/api/caves"), "head").at("alarms").as_array();
    REQUIRE_FALSE(alarms.empty());
    return Text(alarms.front().as_object(), "id");
  }
  json::array Standing() { return Part(house.See("/api/caves"), "head").at("alarms").as_array(); }
  json::object Page(const std::string& id) { return house.See("/api/alarms/" + id); }
  json::object Fridge() { return Part(house.See("/api/caves/1"), "cave"); }
  json::object Row(const char* id) {
    const json::array rows = List(house.See("/api/caves/1/limits"), "rows");
    const auto row = std::ranges::find_if(rows, [&](const json::value& one) { return one.at("id").as_string() == id; });
    REQUIRE(row != rows.end());
    return row->as_object();
  }
};

}  // namespace rindwatch::testing
