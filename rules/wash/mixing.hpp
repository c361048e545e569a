// How to mix a plan's wash for the wheels at hand: once for each age group, fresh, and poured away after it.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "rules/plans/plan.hpp"
#include "rules/wash/brine.hpp"

namespace rindwatch::rules {

// Less than this cannot be weighed well on a kitchen scale, and a cloth does not get wet in it.
inline constexpr Grams kLeastWash{100};
// Stands for a wheel that nobody weighed.
inline constexpr Grams kUsualWheel{2'000};

struct MillilitreSpan {
  Millilitres low, high;
  bool operator==(const MillilitreSpan&) const = default;
};

// What one wheel takes at one wash. By its weight, along its surface between the known sizes; zero or less counts as
// `kUsualWheel`. Common practice, no source: 250 g 3 to 5 mL, 2 kg 15 to 25, 8 kg 40 to 60, 35 kg 100 to 150.
MillilitreSpan WashOfWheel(Grams wheel);

struct MixedAddition {
  std::string name;
  Millilitres volume;
  bool operator==(const MixedAddition&) const = default;
};

// salt + water + additions = total, by mass; an addition weighs what water weighs (cider, beer, wine, whey: within
// 4 %, from memory).
struct Mixing {
  MassPercent strength;
  Grams salt;         // whole grams, so that a kitchen scale can weigh it
  Millilitres water;  // boiled and cooled
  Grams total;
  Millilitres volume;  // of the finished liquid
  std::vector<MixedAddition> additions;
};

// The middle of the recipe's figure.
MassPercent StrengthOf(const Wash& wash);
// Exactly of the strength, and at least `least`: the salt is rounded up to whole grams and the rest follows it. A wash
// without salt is exactly `least`.
Mixing Mix(const Wash& wash, MassPercent strength, Grams least);
// Enough for all the wheels, each with the higher figure, and never less than `kLeastWash`.
Mixing MixFor(const Wash& wash, std::span<const Grams> wheels);

}  // namespace rindwatch::rules
