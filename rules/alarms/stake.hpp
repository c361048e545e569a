// What stands in a cave and what it asks of the air: the limits in force, from the stages of the wheels there.
#pragma once

#include "rules/alarms/body.hpp"

namespace rindwatch::rules::watch {

using Body = EngineState::Body;

// Takes a wheel's history in: without acts, its plans without cares and words and each version only once.
WheelHistory Trimmed(Body& body, const WheelHistory& history);
// A figure that can be judged by: finite and not turned round; else none.
std::optional<Figure> Usable(const std::optional<Figure>& figure);

// Looks up the stage of one wheel, or of all wheels of a cave, as of `at`.
void LookUp(const Body& body, Wheel& wheel, Instant at);
void LookUpWheels(Body& body, CaveId cave, Instant at);
// Works out again what a cave and those around it are judged by.
void WeighUp(Body& body, CaveId cave);
void WeighUpAll(Body& body);

// The cave and, outwards, those it stands inside. A circle ends where it closes.
std::vector<CaveId> Outwards(const Body& body, CaveId cave);
// The air around it is measured too: how its air turns, and how it is cooled, is seen there.
bool FollowsAnother(const Body& body, CaveId cave);
// Wheels whose own band the value lies beyond; where it is only the keeper's limit that is passed, all.
std::vector<WheelId> Touched(const Stake& stake, int side, double value);

}  // namespace rindwatch::rules::watch
