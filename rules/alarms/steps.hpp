// What a step of a plan asks of air that is as it was: told once and quietly, for the wheels whose band has moved, and
// followed until the air or the wheels are where they belong. The next wheel that comes to such a day has a step of its
// own.
#pragma once

#include "rules/alarms/judged.hpp"

namespace rindwatch::rules::watch {

// Judges the minute for the steps of one side that stand, and for one to be told. `side` counts how long the air lies
// beyond the band of now while the one before it is forgiven.
void JudgeSteps(Body& body, const Judged& judged, Side& side, std::vector<StepWatch>& steps, Decisions& out);

// Ends those of one kind over a cave.
void EndSteps(Body& body, AlarmKind kind, CaveId cave, Instant at, Decisions& out, Ending ending);

}  // namespace rindwatch::rules::watch
