// Condensation on the rind, gas, battery and door.
#pragma once

#include "rules/alarms/air.hpp"

namespace rindwatch::rules::watch {

// The minute that ends at `at`.
void JudgeCondensation(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out);
void JudgeGas(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out);
// The air does not turn back although the round was over a while ago.
void JudgeAfterRound(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out);

// A reading.
void HearBattery(Body& body, const Channel& channel, Instant at, Decisions& out);
void HearDoor(Body& body, CaveId id, Cave& cave, bool open, Instant at, Decisions& out);
// The instant at which an open door rings; none: it is shut, or has rung.
std::optional<Instant> DoorRingsAt(const Body& body, CaveId id, const Cave& cave);
void JudgeDoor(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out);

}  // namespace rindwatch::rules::watch
