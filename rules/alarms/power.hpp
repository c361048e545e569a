// All probes of a fridge silent together: its power is gone. And what was while nobody watched.
#pragma once

#include "rules/alarms/lifecycle.hpp"

namespace rindwatch::rules::watch {

// Raises and worsens by `at`; call after each instant at which a probe may have come to be missed.
void JudgePower(Body& body, Instant at, Decisions& out);
// The next instant at which a standing one gets louder.
std::optional<Instant> PowerGetsLouderAt(const Body& body, Instant after);
// The minute that ends at `at`: the air is heard again. Ends what stood, and says what the air did while nobody
// watched.
void HearAgain(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out);
// Nobody watched from `from` to `to`: told at once, and how it was before is kept until the air is heard.
void NoteAbsence(Body& body, Instant from, Instant to, Decisions& out);
// What a probe said while nobody watched, by a clock that turned out right: the air of that time, whatever comes later.
void HearOfAbsence(Body& body, const Reading& held, Decisions& out);
// Where no probe measures the air any more it will not be heard.
void EndUnheard(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out);
// The warmest that any wheel of the cave can be, had the air stood at `air` since it was last heard.
std::optional<double> WarmestIn(const Body& body, const Cave& cave, double air, Instant at);
// A silence that belongs to a power cut is not told a second time.
bool IsFolded(const Body& body, CaveId cave);

}  // namespace rindwatch::rules::watch
