// Water where a contact tells of it: a humidifier that is dry, a drain that is blocked. Told quietly, and over by
// itself when the water is as it should be for a few minutes. With dry or damp air of the same cave it is one event.
#pragma once

#include <array>

#include "rules/alarms/lifecycle.hpp"

namespace rindwatch::rules::watch {

constexpr bool TellsOfWater(ChannelKind kind) {
  return kind == ChannelKind::kHumidifierWater || kind == ChannelKind::kDrainWater;
}

// A reading.
void HearWater(Body& body, CaveId id, Cave& cave, ChannelKind kind, Instant at, Decisions& out);
// The instants at which one may ring or be over.
std::array<std::optional<Instant>, 4> WaterTurnsAt(const Cave& cave);
void JudgeWater(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out);
// After contacts were hung or taken down, or the settings changed.
void ReviewWater(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out);
// The water that dry or damp air comes of, as the kind that it would be told as.
std::optional<AlarmKind> CauseOf(const Body& body, AlarmKind kind, CaveId cave, Instant at);

}  // namespace rindwatch::rules::watch
