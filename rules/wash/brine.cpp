#include "rules/wash/brine.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace rindwatch::rules {
namespace {

struct Row {
  double percent;
  double at_15, at_20;  // kg/m3
};

constexpr std::array<Row, 15> kTable{{{0, 999.1, 998.2},
                                      {1, 1007.1, 1005.3},
                                      {2, 1014.4, 1012.2},
                                      {4, 1029.2, 1026.8},
                                      {6, 1044.1, 1041.3},
                                      {8, 1059.1, 1055.9},
                                      {10, 1074.2, 1070.7},
                                      {12, 1089.5, 1085.7},
                                      {14, 1104.9, 1100.9},
                                      {16, 1120.6, 1116.2},
                                      {18, 1136.4, 1131.9},
                                      {20, 1152.5, 1147.8},
                                      {22, 1168.9, 1164.0},
                                      {24, 1185.6, 1180.4},
                                      {26, 1202.5, 1197.2}}};

}  // namespace

GramsPerMillilitre DensityOfBrine(MassPercent salt, Celsius temperature) {
  const double percent = std::clamp(salt.value, 0.0, kTable.back().percent);
  const auto above = std::ranges::lower_bound(kTable.begin() + 1, kTable.end() - 1, percent, {},
                                              [](const Row& row) { return row.percent; });
  const Row &low = *(above - 1), &high = *above;
  const double share = (percent - low.percent) / (high.percent - low.percent);
  const double warm = (std::clamp(temperature.value, 15.0, 20.0) - 15) / 5;
  return {std::lerp(std::lerp(low.at_15, high.at_15, share), std::lerp(low.at_20, high.at_20, share), warm) / 1000};
}

Millilitres VolumeOf(Grams mass, GramsPerMillilitre density) { return {mass.value / density.value}; }
Grams MassOf(Millilitres volume, GramsPerMillilitre density) { return {volume.value * density.value}; }

}  // namespace rindwatch::rules
