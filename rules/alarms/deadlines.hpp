// What happens without an input: a minute closes, a silence gets louder, time aside runs out, a keeper's day begins.
#pragma once

#include "rules/alarms/lifecycle.hpp"

namespace rindwatch::rules::watch {

// The first instant after `body.now` at which something is decided, or a probe comes to be missed; none: nothing waits.
std::optional<Instant> NextInstant(const Body& body);
// Decides everything up to `at`, each at its own instant.
void RunDeadlines(Body& body, Instant at, Decisions& out);
// The same for a time in which nobody watched: only what needs no reading, days and time aside.
void RunUnwatched(Body& body, Instant at, Decisions& out);
// After a changed fact: decides at `body.now` what it brought about, and sets the wake.
void Settle(Body& body, Decisions& out);

// The next start of a keeper's day for a cave; none where no wheel lies.
void SetNextDay(Body& body, CaveId cave, Instant at);

}  // namespace rindwatch::rules::watch
