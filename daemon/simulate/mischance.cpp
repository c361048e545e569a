#include "daemon/simulate/mischance.hpp"

#include <fmt/format.h>

#include <iterator>

#include "sensors/simulated/demo.hpp"

namespace rindwatch {

using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

namespace {

// One of many streams of the seed: the fridge draws from the low ones.
constexpr std::uint64_t kStream = 7001;

struct Chance {
  double weight;
  const char* begins;           // "{}" stands for its length where the fridge ends it itself
  double least, most;           // hours
  const char* ends;             // a line for the end; null: none is needed
  const char* probe = nullptr;  // to whom it happens; null: to no probe
};
// Doors and deliveries are what happens in a kitchen; the rest is rare there, and is what one tries the program for.
constexpr Chance kChances[] = {
    {3, "door ajar {}", 0.5, 2, nullptr},
    {2, "delivery", 0, 0, nullptr},
    {2, "compressor dead", 3, 7, "compressor mended"},
    {1, "coil ices", 70, 90, "coil thawed"},
    {1, "thermostat drifts 48h", 60, 80, "thermostat mended"},
    {1, "wick dry {}", 20, 40, nullptr},
    {1, "heat wave {}", 48, 72, nullptr},
    {2, "power cut {}", 0.5, 3, nullptr},
    {1, "probe silent Fridge air {}", 2, 6, nullptr, "Fridge air"},
    {1, "probe stuck Fridge air {}", 2, 6, nullptr, "Fridge air"},
    {1, "probe wet Box 1 air {}", 3, 6, nullptr, "Box 1 air"},
};

seconds Hours(double count) { return seconds{static_cast<seconds::rep>(count * 3600)}; }

}  // namespace

Mischance::Mischance(std::uint64_t seed, seconds now, const std::vector<sensors::simulated::ProbeSpec>& probes)
    : random_(seed, kStream), next_(now + Hours(random_.Between(6, 12))) {
  for (const sensors::simulated::ProbeSpec& probe : probes) probes_.insert(probe.name);
}

bool Mischance::Hangs(const char* probe) const { return probe == nullptr || probes_.contains(probe); }

void Mischance::Draw(seconds at) {
  double all = 0;
  for (const Chance& chance : kChances) all += Hangs(chance.probe) ? chance.weight : 0;
  double drawn = random_.Uniform() * all;
  const Chance* chosen = std::begin(kChances);
  for (const Chance& chance : kChances) {
    if (!Hangs(chance.probe)) continue;
    chosen = &chance;
    drawn -= chance.weight;
    if (drawn < 0) break;
  }
  const auto lasts = std::chrono::floor<minutes>(Hours(random_.Between(chosen->least, chosen->most)));
  planned_.emplace(at, fmt::format(fmt::runtime(chosen->begins), fmt::format("{}m", lasts.count())));
  if (chosen->ends) planned_.emplace(at + lasts, chosen->ends);
  next_ = at + lasts + Hours(random_.Between(20, 72));
}

std::vector<std::string> Mischance::Until(seconds now) {
  while (next_ <= now) Draw(next_);
  std::vector<std::string> due;
  const auto end = planned_.upper_bound(now);
  for (auto one = planned_.begin(); one != end; ++one) due.push_back(one->second);
  planned_.erase(planned_.begin(), end);
  return due;
}

}  // namespace rindwatch
