// Known shapes of the air: what an excursion that turned back was. Named and marked, not rung.
#pragma once

#include "rules/alarms/body.hpp"

namespace rindwatch::rules::watch {

// Adds the course to the cave's shapes if it is one that is known.
void NameShape(Cave& cave, const Excursion::Course& course, Instant ended);
void AddShape(Cave& cave, const Shape& shape);

}  // namespace rindwatch::rules::watch
