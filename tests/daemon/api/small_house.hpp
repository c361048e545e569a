// A small house and what is said of it: a fridge, a box, a counter, ten wheels. Invented.
#pragma once

#include <stdexcept>
#include <string>

#include "tests/daemon/api/answers.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch::testing {

// What stands over the places, in one text.
inline std::string TopOfCaves(Household& house) {
  std::string text;
  for (const json::value& sentence : List(house.See("/api/caves"), "sentences"))
    text += (text.empty() ? "" : " ") + Text(sentence.as_object(), "text");
  return text;
}

// A fridge with a probe, a box in it without one, a counter. Three pressed wheels in the box, six bloomies in the
// fridge, one drying on the counter.
struct SmallHouse {
  TempFolder folder;
  Household house{folder / "rind.db", kThursday};

  SmallHouse() {
    house.Begin();
    house.Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
    house.Do("enter", InTheBox(PressedWheels(3, NewCaveIn("box", 1), 12), 9));
    json::object bloomies = PressedWheels(6, InCave(1), 8);
    bloomies["plan"] = "bloomy";
    bloomies["lot"] = "221";
    bloomies["grams"] = 250;
    house.Do("enter", bloomies);
    house.Do("enter", PressedWheels(1, NewCave("counter"), 2));
  }
  void Read(double temperature, double humidity, rules::Millis span) {
    const rules::Instant end = house.Now() + span;
    while (house.Now() < end) {
      house.StepTo(house.Now() + 5min);
      house.Reads(temperature, humidity);
    }
  }
  // For as long as a value that never moves would be a probe that is stuck.
  void ReadLively(double temperature, double humidity, rules::Millis span) {
    for (rules::Millis read{0}; read < span; read += 10min) {
      Read(temperature, humidity, 5min);
      Read(temperature + 0.1, humidity + 1, 5min);
    }
  }
  json::object CaveNamed(const char* name) {
    for (const json::value& cave : List(house.See("/api/caves"), "caves")) {
      if (cave.as_object().at("name").as_string() == name) return cave.as_object();
    }
    throw std::runtime_error("no such cave");
  }
  std::string Sentence() {
    return std::string(house.See("/api/round").at("head").as_object().at("sentence").as_string());
  }
};

}  // namespace rindwatch::testing
