// One event in a cave is one alarm: what the warmth or the cold of a cave brings with it, there and in the boxes that
// stand inside, is told by that alarm, and quiet by design meanwhile.
#pragma once

#include "rules/alarms/lifecycle.hpp"

namespace rindwatch::rules::watch {

// While it is asked whether a door is ajar, and while the air comes back from it, what it came to is no quiet word of
// its own, nor is it one to whoever took the question; an act is.
bool IsAskedAlready(const Body& body, AlarmKind kind, CaveId cave, Severity severity);
// And once the air is loudly too warm, the question is answered: the door is one of its first three things.
bool IsAnsweredLoudly(const Body& body, CaveId cave);
// Something at act or above stands over the cave, or over one around it, that tells of this kind too, as long as that
// is `severity`.
bool IsToldByAnother(const Body& body, AlarmKind kind, CaveId cave, Severity severity);
// The one that tells of what stands; null: none does.
const Alarm* TellerOf(const Body& body, const Alarm& alarm);
// Quiets what stands over the cave of `main`, and over what stands inside it, and is told by it.
void QuietWhatItTells(Body& body, const Alarm& main, Instant at, Decisions& out);
// The plant did not keep up, or the air was dry, in what was over a while ago: the measures are means of a day or half
// a one, and hold that event still.
bool IsOfWhatIsOver(const Body& body, AlarmKind kind, CaveId cave);
// What an alarm that is over leaves behind: means of a day and wheels that hold it for a while.
void RememberIllness(Body& body, const Alarm& alarm, Instant at);
// Of gas, in the cave itself.
bool GasStandsIn(const Body& body, CaveId cave);
// A mean of a day holds warmth that is told and over, or that a door let in.
void NoteWarmth(Cave& cave, Instant at);
// An alarm at act or above over the temperature of the cave or of one around it: a time that teaches nothing.
bool IsIll(const Body& body, CaveId cave);
// Such a one stands, or was over no earlier than `since`.
bool WasIll(const Body& body, CaveId cave, Instant since);

}  // namespace rindwatch::rules::watch
