// Chance that is the same on every machine: the standard's distributions differ between libraries, so both the
// generator and the two distributions are written here. A value; a copy repeats the original's draws.
#pragma once

#include <cstdint>

namespace rindwatch::sensors::simulated {

// SplitMix64 (Steele, Lea, Flood: "Fast splittable pseudorandom number generators", OOPSLA 2014).
class Random {
 public:
  // Streams of one seed are independent of each other, so that one more draw here moves nothing there.
  Random(std::uint64_t seed, std::uint64_t stream);

  // In [0, 1).
  double Uniform();
  double Between(double low, double high) { return low + (high - low) * Uniform(); }
  // Mean 0, deviation 1, never beyond 6: the sum of twelve uniform draws less 6, which needs additions only.
  double Normal();

 private:
  std::uint64_t Next();

  std::uint64_t state_;
};

}  // namespace rindwatch::sensors::simulated
