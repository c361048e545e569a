// An alarm's life, as in IEC 62682: raised, taken, set aside, over. Each step writes its decision.
//
//   raised --taken--> taken --over--> gone        taken stops the bell, not the watch: what gets worse
//     |                 ^ '--worse--> raised      after it was taken asks to be taken again
//     '--over--> over, listed --taken--> gone
#pragma once

#include "rules/alarms/body.hpp"

namespace rindwatch::rules::watch {

using Body = EngineState::Body;
using Decisions = std::vector<Decision>;

// The alarm of this kind that stands (is not over) over this cave, or of this probe; null if there is none.
Alarm* Standing(Body& body, AlarmKind kind, CaveId cave);
Alarm* StandingSilence(Body& body, ProbeId probe);

// Names the alarm by its kind, subject and instant, and lists it.
void Raise(Body& body, Alarm alarm, Instant at, Decisions& out);
// It got worse: the bell that was taken or set aside for the lesser thing rings again.
void Worsen(Body& body, Alarm& alarm, Severity severity, Instant at, Decisions& out);
// It ended. Stays listed until taken.
void End(Body& body, Alarm& alarm, Instant at, Decisions& out);
void Take(Body& body, const std::string& id, Instant at, Decisions& out);
// Until a later instant; an earlier one changes nothing.
void SetAside(Body& body, const std::string& id, Instant until, Instant at, Decisions& out);
// Those whose time aside has passed by `at`.
void BringBack(Body& body, Instant at, Decisions& out);

}  // namespace rindwatch::rules::watch
