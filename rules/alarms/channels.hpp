// What the watch knows of a single channel, where several of a kind hang in one cave.
#pragma once

#include <optional>

#include "rules/alarms/engine.hpp"

namespace rindwatch::rules {

struct ChannelSaid {
  Instant measured_at;
  double value = 0;     // in the channel kind's unit
  bool speaks = false;  // false: it should have said more by now
};

// What a channel said last, and whether it still speaks at `at`; none: nothing live was heard since it was hung, or it
// hangs nowhere.
std::optional<ChannelSaid> LastSaid(const EngineState& state, ChannelId channel, Instant at);

// How long after its last word a channel counts as missed: three of its usual gaps, or the longest of its usual day.
// None: it hangs nowhere.
std::optional<Millis> ChannelAwaitedFor(const EngineState& state, ChannelId channel);

// How long after its last word a probe counts as missed: the least of its channels that have spoken. None: it hangs
// nowhere, or nothing of it ought to speak all the time.
std::optional<Millis> ProbeAwaitedFor(const EngineState& state, ProbeId probe);

// How long the air of a cave is awaited: of its own thermometers that of the longest usual gap. None: none hangs there.
std::optional<Millis> AirAwaitedFor(const EngineState& state, CaveId cave);

// Until when a silence that would be an act by day waits for the morning. None: it is no such silence, or it does not
// wait.
std::optional<Instant> WaitsForMorningUntil(const EngineState& state, const Alarm& alarm, Instant at);

}  // namespace rindwatch::rules
