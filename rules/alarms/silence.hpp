// Judges whether a probe that ought to speak does. What rings is time that was listened in: while the daemon itself was
// away nobody can say whether a probe spoke, so an absence alone never makes a probe silent. Once it is told, it is
// told since its last word: nothing is known from there on.
#pragma once

#include "rules/alarms/lifecycle.hpp"

namespace rindwatch::rules::watch {

// How loud the silence of a probe is now, and the next instant at which it gets louder.
struct Silence {
  std::optional<Severity> severity;
  std::optional<Instant> next;
  bool waited = false;  // it was time to act in a night that is over, and it was kept for the morning
};
Silence SilenceOf(const Body& body, ProbeId id, const Probe& probe, Instant at);

// Raises and worsens what is due by `at`.
void JudgeSilence(Body& body, Instant at, Decisions& out);
// The probe spoke: the silence is over at once, for what it meant (nobody knows) is no longer so.
void HearProbe(Body& body, ProbeId id, Instant at, Decisions& out);
// Keeps the list of probes that ought to speak in step with the channels that hang. One that was taken down or hung
// elsewhere is in the keeper's hand: its silence ends and counts anew.
void ListProbes(Body& body, ProbeId touched, Instant at, Decisions& out);
// Nobody listened from `from` to `to`.
void SkipAbsence(Body& body, Instant from, Instant to);
// The same of a brief absence, through which the watch goes on: every silence is where it was, told or not.
void PauseSilence(Body& body, Instant from, Instant to);

}  // namespace rindwatch::rules::watch
