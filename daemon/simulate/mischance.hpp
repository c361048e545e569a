// Mishaps that befall the simulated fridge by chance, so that whoever tries the program sees what it says of them: one
// every day or three, and what ends it. A value; equal seeds, equal mishaps.
#pragma once

#include <chrono>
#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "sensors/simulated/probe.hpp"
#include "sensors/simulated/random.hpp"

namespace rindwatch {

class Mischance {
 public:
  // The first comes half a day after `now` at the latest. Seconds of the fridge's own time.
  // `probes` are those of the place: what befalls a probe befalls one of them.
  Mischance(std::uint64_t seed, std::chrono::seconds now, const std::vector<sensors::simulated::ProbeSpec>& probes);

  // What befalls up to `now`, as lines of sensors/simulated/mishap.hpp, in their order.
  std::vector<std::string> Until(std::chrono::seconds now);

 private:
  void Draw(std::chrono::seconds at);
  bool Hangs(const char* probe) const;

  sensors::simulated::Random random_;
  std::chrono::seconds next_;
  std::multimap<std::chrono::seconds, std::string> planned_;
  std::set<std::string> probes_;
};

}  // namespace rindwatch
