// Signs that come days before a band is left: the plant cools more slowly, the mean of the day creeps up, the humidity
// sinks under its own normal. And what the plant's own power says.
#pragma once

#include "rules/alarms/air.hpp"

namespace rindwatch::rules::watch {

// The minute that ends at `at`.
void JudgeSlowSigns(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out);

}  // namespace rindwatch::rules::watch
