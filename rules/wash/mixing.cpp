#include "rules/wash/mixing.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace rindwatch::rules {
namespace {

struct Known {
  double grams;
  double low, high;  // mL
};

constexpr std::array<Known, 4> kKnown{{{250, 3, 5}, {2'000, 15, 25}, {8'000, 40, 60}, {35'000, 100, 150}}};

// Straight in the logarithms: as a surface grows with a mass.
double Between(double grams, const Known& small, const Known& large, double Known::*figure) {
  const double share = std::log(grams / small.grams) / std::log(large.grams / small.grams);
  return small.*figure * std::pow(large.*figure / small.*figure, share);
}

// Beyond the known sizes by the surface of wheels of one shape.
double Beyond(double grams, const Known& nearest, double Known::*figure) {
  return nearest.*figure * std::pow(grams / nearest.grams, 2.0 / 3.0);
}

double VolumeFor(double grams, double Known::*figure) {
  if (grams <= kKnown.front().grams) return Beyond(grams, kKnown.front(), figure);
  for (std::size_t i = 1; i < kKnown.size(); ++i) {
    if (grams <= kKnown[i].grams) return Between(grams, kKnown[i - 1], kKnown[i], figure);
  }
  return Beyond(grams, kKnown.back(), figure);
}

}  // namespace

MillilitreSpan WashOfWheel(Grams wheel) {
  const double grams = wheel.value > 0 ? wheel.value : kUsualWheel.value;
  return {{VolumeFor(grams, &Known::low)}, {VolumeFor(grams, &Known::high)}};
}

MassPercent StrengthOf(const Wash& wash) { return {(wash.salt.low + wash.salt.high) / 2}; }

Mixing Mix(const Wash& wash, MassPercent strength, Grams least) {
  Mixing mixing;
  mixing.strength = strength;
  mixing.total = least;
  if (strength.value > 0) {
    // What is a whole number but for the last bits stays that number.
    mixing.salt = {std::max(1.0, std::ceil(least.value * strength.value / 100 - 1e-9))};
    mixing.total = {mixing.salt.value * 100 / strength.value};
  }
  mixing.volume = VolumeOf(mixing.total, DensityOfBrine(strength));
  const GramsPerMillilitre of_water = DensityOfBrine({0});
  double water = mixing.total.value - mixing.salt.value;
  for (const WashAddition& addition : wash.additions) {
    const Millilitres volume{addition.ml_per_litre * mixing.volume.value / 1000};
    mixing.additions.push_back({addition.name, volume});
    water -= MassOf(volume, of_water).value;
  }
  mixing.water = VolumeOf({std::max(0.0, water)}, of_water);
  return mixing;
}

Mixing MixFor(const Wash& wash, std::span<const Grams> wheels) {
  double needed = 0;
  for (const Grams wheel : wheels) needed += WashOfWheel(wheel).high.value;
  const MassPercent strength = StrengthOf(wash);
  const Grams mass = MassOf({needed}, DensityOfBrine(strength));
  return Mix(wash, strength, std::max(mass, kLeastWash));
}

}  // namespace rindwatch::rules
