// A fridge with a past: which instant its state belongs to, and how the time up to now is lived without waiting.
#pragma once

#include <cstdint>
#include <functional>

#include "daemon/simulate/mischance.hpp"
#include "daemon/simulate/speech.hpp"
#include "rules/time.hpp"
#include "sensors/simulated/fridge.hpp"

namespace rindwatch {

// The demo's fridge and the instant of its second 0. Copies as a value.
struct LivedFridge {
  sensors::simulated::Fridge fridge;
  rules::Instant zero;

  rules::Instant At() const { return zero + fridge.Elapsed(); }
};

// The demo's fridge as it stood `past` before `now`, its mishap of some days ago planned if `past` reaches so far.
// It has settled for half a day before: plant, boxes and rinds are in their rhythm. `zone`: where the keeper comes at
// seven. `now` counts to the whole second.
LivedFridge DemoFridgeBefore(rules::Instant now, std::chrono::seconds past, std::uint64_t seed,
                             const rules::Zone& zone);
// The same of the farm's cellar.
LivedFridge DemoCellarBefore(rules::Instant now, std::chrono::seconds past, std::uint64_t seed,
                             const rules::Zone& zone);

// Lives until `to` and hands each message over in the order of time, with the topics and bytes that the live fridge
// publishes. Stops early if `tell` says false. `by_chance`: what befalls it besides what was planned; none: nothing.
void LivePast(LivedFridge& lived, rules::Instant to, const std::function<bool(const ProbeMessage&)>& tell,
              Mischance* by_chance = nullptr);

}  // namespace rindwatch
