// What a plug tells of the plant behind it: that it runs, that it stands, and for how long it usually does.
#pragma once

#include "rules/alarms/body.hpp"

namespace rindwatch::rules::watch {

// A reading of the plant's power; `anew`: the first after a gap, which is the plug's and no rest of the plant.
void HearPlant(EngineState::Body& body, CaveId id, double watts, bool anew, Instant at);
// A plug tells of the plant, and there is something to go by.
bool PlantTells(const EngineState::Body& body, const Cave& cave, Instant at);
// It has stood for longer than it ever rests, defrosts included. False as long as nothing tells.
bool PlantStandsStill(const EngineState::Body& body, const Cave& cave, Instant at);

}  // namespace rindwatch::rules::watch
