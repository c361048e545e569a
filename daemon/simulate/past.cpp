#include "daemon/simulate/past.hpp"

#include <algorithm>
#include <chrono>
#include <string>

#include "sensors/simulated/demo.hpp"
#include "sensors/simulated/mishap.hpp"

namespace rindwatch {

namespace {

using std::chrono::seconds;

// Long enough for plant, boxes and small wheels to find their rhythm; a day would be as good.
constexpr seconds kSettles = std::chrono::hours{12};
// What is lived in one step: some dozens of messages.
constexpr seconds kStep = std::chrono::minutes{10};

seconds TimeOfDay(rules::LocalTime local) {
  return std::chrono::floor<seconds>(local - std::chrono::floor<std::chrono::days>(local));
}

LivedFridge Settled(sensors::simulated::FridgeSpec (*spec)(const sensors::simulated::DemoTimes&), rules::Instant now,
                    seconds past, std::uint64_t seed, const rules::Zone& zone) {
  const rules::Instant zero = std::chrono::floor<seconds>(now) - past - kSettles;
  const sensors::simulated::DemoTimes times{
      .seed = seed, .starts_at = TimeOfDay(zone.ToLocal(zero)), .past = past + kSettles};
  LivedFridge lived{sensors::simulated::Fridge{spec(times)}, zero};
  lived.fridge.Step(kSettles);
  return lived;
}

}  // namespace

LivedFridge DemoFridgeBefore(rules::Instant now, seconds past, std::uint64_t seed, const rules::Zone& zone) {
  return Settled(sensors::simulated::DemoSpec, now, past, seed, zone);
}

LivedFridge DemoCellarBefore(rules::Instant now, seconds past, std::uint64_t seed, const rules::Zone& zone) {
  return Settled(sensors::simulated::DemoCellarSpec, now, past, seed, zone);
}

void LivePast(LivedFridge& lived, rules::Instant to, const std::function<bool(const ProbeMessage&)>& tell,
              Mischance* by_chance) {
  const auto speeches = DemoSpeech();
  const seconds end = std::chrono::floor<seconds>(to - lived.zero);
  while (lived.fridge.Elapsed() < end) {
    if (by_chance) {
      for (const std::string& line : by_chance->Until(lived.fridge.Elapsed()))
        lived.fridge.Do(sensors::simulated::ParseMishap(line));
    }
    const auto outcome = lived.fridge.Step(std::min(kStep, end - lived.fridge.Elapsed()));
    for (const ProbeMessage& message : Speak(outcome.readings, speeches, lived.zero)) {
      if (!tell(message)) return;
    }
  }
}

}  // namespace rindwatch
