#include "sensors/simulated/random.hpp"

namespace rindwatch::sensors::simulated {

namespace {

constexpr std::uint64_t kGoldenGamma = 0x9e3779b97f4a7c15;

std::uint64_t Mix(std::uint64_t z) {
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9;
  z = (z ^ (z >> 27)) * 0x94d049bb133111eb;
  return z ^ (z >> 31);
}

}  // namespace

Random::Random(std::uint64_t seed, std::uint64_t stream) : state_(Mix(seed) ^ Mix(stream * kGoldenGamma + 1)) {}

std::uint64_t Random::Next() {
  state_ += kGoldenGamma;
  return Mix(state_);
}

// The upper 53 bits fill a double's fraction exactly.
double Random::Uniform() { return static_cast<double>(Next() >> 11) * 0x1.0p-53; }

double Random::Normal() {
  double sum = -6;
  for (int i = 0; i < 12; ++i) sum += Uniform();
  return sum;
}

}  // namespace rindwatch::sensors::simulated
