// A box stands inside a cave, and the temperature of its air follows the air around it, late. One event is one alarm:
// what rings around a box already is not rung a second time in it.
#pragma once

#include "rules/alarms/lifecycle.hpp"

namespace rindwatch::rules::watch {

// The loudest alarm of this kind that stands in a cave around this one; null if there is none.
Alarm* RingsAround(Body& body, CaveId id, AlarmKind kind);

// The air of this cave, which was too warm or too cold, is back. What is out in the boxes inside belongs to it, and
// their delays begin anew, again and again while they come back: one that does not recover rings by itself. What rings
// in a box by itself goes on.
void CountAnewInside(Body& body, CaveId id, AlarmKind kind);
// A box inside follows the air of this cave, which has been back for so long: it is still out and recovers, and this
// cave's alarm tells of it. For its wheels the event is not over.
bool IsFollowedInside(Body& body, CaveId id, AlarmKind kind, Millis back, Instant at);

// A cave around this one went out on the same side together with it and is about to ring, though not quite yet.
bool AboutToRingAround(const Body& body, CaveId id, AlarmKind kind, const Side& side, Instant at);

// All caves, each after those it stands inside: a box has to know what rings around it in the same minute.
std::vector<CaveId> OutermostFirst(const Body& body);

}  // namespace rindwatch::rules::watch
