// Wheels that follow the air alike, and where each class stands by the air of one channel. The state is kept for a
// probe and a class, never for a wheel.
#pragma once

#include <compare>
#include <memory>

#include "rules/time.hpp"
#include "rules/wheels/lags.hpp"

namespace rindwatch::rules::watch {

struct WheelClass {
  int size = 0;        // steps of a quarter in the logarithm of the weight, 100 g being 0
  int evaporates = 0;  // hundredths of free evaporation
  bool boxed = false;  // in a box without a probe of its own
  auto operator<=>(const WheelClass&) const = default;
};

// What is worked out once for a class.
struct ClassLags {
  RindAir rind;
  WheelLags lags;
  SteadySpan minute;
};
std::shared_ptr<const ClassLags> LagsOf(const WheelClass& kind);
// `hardiness` as in a plan; a weight of 0 is unknown: a soft wheel counts as 250 g, another as 2 kg.
WheelClass ClassOf(Grams weight, int hardiness, bool boxed);

struct Estimate {
  WheelClass kind;
  WheelFollows follows;
  Instant since;  // when it was begun, at rest with the air of then
};

}  // namespace rindwatch::rules::watch
