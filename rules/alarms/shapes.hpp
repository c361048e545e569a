// Known shapes of the air: what an excursion that turned back was. Named and marked, not rung. A wrong name is worse
// than none: of warm goods and of a round only what keepers said is proof, of a door a contact or the drier air of the
// room, of a defrost that it comes again.
#pragma once

#include "rules/alarms/body.hpp"

namespace rindwatch::rules::watch {

// Adds the course to the cave's shapes if it is one that is known. Of what rang at act or above nothing tells but
// how it began: who comes then, and opens, comes because it rang.
void NameShape(const EngineState::Body& body, CaveId id, Cave& cave, const Excursion::Course& course, Instant ended);
void AddShape(Cave& cave, const Shape& shape);

// A care was ticked off: what the air has just done was the round, if it was short.
void NameAfterTending(EngineState::Body& body, CaveId id, Instant at);
// Wheels came in from `from`, or from elsewhere: warm goods, unless they were lying as cool as here. What the air has
// just done was they.
void LayIn(EngineState::Body& body, std::optional<CaveId> from, CaveId to, Instant at);

}  // namespace rindwatch::rules::watch
