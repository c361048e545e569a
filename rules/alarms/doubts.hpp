// Whether what a probe says can be so: stuck, wet, or at odds with another.
#pragma once

#include "rules/alarms/air.hpp"

namespace rindwatch::rules::watch {

// After a reading: a value that is repeated for too long, or is not any more.
void DoubtReading(Body& body, Channel& channel, std::int64_t before, Instant at, Decisions& out);
// The minute that ends at `at`: water on a sensor, and probes that contradict each other.
void DoubtMinute(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out);
bool IsWetOver(const Body& body, CaveId cave);

}  // namespace rindwatch::rules::watch
