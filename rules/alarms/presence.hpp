// Whether somebody is at the cave, and what is quiet while they are: a door that is open, a tick of a care, "I am
// here".
#pragma once

#include "rules/alarms/body.hpp"

namespace rindwatch::rules::watch {

using Body = EngineState::Body;
using Decisions = std::vector<Decision>;

// Caves that share their air: the one itself, what it stands in and what stands in these.
std::vector<CaveId> TogetherWith(const Body& body, CaveId cave);

// Gas, power and what is urgent never are.
bool IsQuiet(const Body& body, AlarmKind kind, CaveId cave, Severity severity, Instant at);
// Until when; none: nobody is there.
std::optional<Instant> QuietUntil(const Body& body, CaveId cave, Instant at);

// A care was ticked off: somebody is there, or was until now.
void BeSeen(Cave& cave, Instant at);
// What began then began while somebody tended the cave, as far as ticks tell: who works first ticks when it is done.
bool BeganWithRound(const Cave& cave, Instant since);

// `keeper` as in KeeperHere and KeeperOut.
void ComeHere(Body& body, CaveId cave, const std::string& keeper, Instant at, Decisions& out);
void GoOut(Body& body, CaveId cave, const std::string& keeper, Instant at, Decisions& out);
// Ends what was quiet by design - "I am here", a wet probe, an alarm that tells of it - when that is over.
void EndPresence(Body& body, Instant at, Decisions& out);

}  // namespace rindwatch::rules::watch
