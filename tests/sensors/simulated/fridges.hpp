// Fridges that the tests of the simulated fridge share, and what they ask of them.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "sensors/simulated/fridge.hpp"

namespace rindwatch::sensors::simulated {

inline WheelSpec SmallWheel(const std::string& name) {
  return {.name = name, .shape = {0.055, 0.025}, .matter = {}, .rind = {.water_activity = 0.965, .free_share = 0.8}};
}
inline WheelSpec BigWheel(const std::string& name) {
  return {.name = name, .shape = {0.1, 0.06}, .matter = {}, .rind = {.water_activity = 0.95, .free_share = 0.25}};
}

// Two boxes, six small wheels in the first, three of 2 kg in the second; no keeper, no weather, unless a test wants it.
inline FridgeSpec TypicalSpec(std::uint64_t seed) {
  using Kind = rules::ChannelKind;
  using std::chrono::seconds;
  FridgeSpec spec;
  spec.seed = seed;
  for (const char* name : {"Box 1", "Box 2"}) {
    BoxSpec box;
    box.name = name;
    spec.boxes.push_back(box);
  }
  for (int n = 1; n <= 6; ++n) spec.wheels.push_back({SmallWheel("Small " + std::to_string(n)), "Box 1"});
  for (int n = 1; n <= 3; ++n) spec.wheels.push_back({BigWheel("Big " + std::to_string(n)), "Box 2"});
  const std::vector<ChannelSpec> air = {{Kind::kTemperature, seconds{120}, 0.03, 0.1, 0},
                                        {Kind::kHumidity, seconds{40}, 0.25, 0.1, 0}};
  spec.probes = {{.name = "Fridge", .where = "", .channels = air},
                 {.name = "Box", .where = "Box 1", .channels = air},
                 {.name = "Plug",
                  .where = "",
                  .channels = {{Kind::kPlantPower, seconds{0}, 0.5, 0.1, 0}},
                  .every = seconds{30},
                  .on_mains = true}};
  return spec;
}
inline Fridge TypicalFridge(std::uint64_t seed) { return Fridge{TypicalSpec(seed)}; }

// No keeper, no defrost, a room that stays as it is: what is left is the plant's own cycle.
inline FridgeSpec QuietSpec(std::uint64_t seed) {
  FridgeSpec spec = TypicalSpec(seed);
  spec.keeper.comes = false;
  spec.plant.defrost.first = spec.plant.defrost.every = std::chrono::hours{24 * 365};
  spec.room.day_swing = spec.room.slow_swing = spec.room.humidity_swing = 0;
  return spec;
}

// The truths of a span, ten seconds apart.
inline std::vector<Truth> Live(Fridge& fridge, std::chrono::seconds span) {
  std::vector<Truth> truths;
  const auto end = fridge.Elapsed() + span;
  while (fridge.Elapsed() < end) truths.push_back(fridge.Step(std::chrono::seconds{10}).truth);
  return truths;
}

template <typename Of>
double MeanOf(const std::vector<Truth>& truths, Of of) {
  double sum = 0;
  for (const Truth& truth : truths) sum += of(truth);
  return sum / static_cast<double>(truths.size());
}
template <typename Of>
double LowestOf(const std::vector<Truth>& truths, Of of) {
  double low = of(truths.front());
  for (const Truth& truth : truths) low = std::min(low, of(truth));
  return low;
}
template <typename Of>
double HighestOf(const std::vector<Truth>& truths, Of of) {
  double high = of(truths.front());
  for (const Truth& truth : truths) high = std::max(high, of(truth));
  return high;
}
inline double AirOf(const Truth& truth) { return truth.air; }
inline double HumidityOf(const Truth& truth) { return truth.humidity; }
inline double BoxHumidityOf(const Truth& truth) { return truth.boxes[0].humidity; }

}  // namespace rindwatch::sensors::simulated
