// What the benchmarks of engine and replay share: twenty probes in five rooms, their invented air, the processor's
// time.
#pragma once

#include <unistd.h>

#include <chrono>
#include <cstdint>
#include <ctime>
#include <fstream>
#include <random>

namespace rindwatch::bench {

inline constexpr int kProbes = 20, kCaves = 5;
inline constexpr std::chrono::seconds kEvery{30};

inline double Processor() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

inline double ResidentMegabytes() {
  std::ifstream statm("/proc/self/statm");
  double all = 0, resident = 0;
  statm >> all >> resident;
  return resident * static_cast<double>(sysconf(_SC_PAGESIZE)) / 1e6;
}

// A plant's saw with some noise; cheap, so that the engine is measured and not this.
class Air {
 public:
  double Temperature(std::int64_t turn, int probe) {
    const auto within = static_cast<double>((turn + probe * 7) % 60);
    const double saw = within < 16 ? 12.9 - 0.05 * within : 12.1 + 0.8 * (within - 16) / 44;
    return saw + Noise();
  }
  double Humidity(std::int64_t turn, int probe) { return 86 + static_cast<double>((turn + probe) % 40) / 20 + Noise(); }

 private:
  double Noise() { return static_cast<double>(random_() % 100) / 1000; }
  std::minstd_rand random_{7};
};

}  // namespace rindwatch::bench
