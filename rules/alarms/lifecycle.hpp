// An alarm's life: each step is one row of the table in life.hpp, and writes its decision. Taking stops the bell, not
// the watch: what gets worse after it was taken asks to be taken again.
#pragma once

#include "rules/alarms/body.hpp"
#include "rules/alarms/life.hpp"

namespace rindwatch::rules::watch {

using Body = EngineState::Body;
using Decisions = std::vector<Decision>;

Life LifeOf(const Alarm& alarm);
// Of a kind over a cave, whether something stands or not.
Life LifeOf(Body& body, AlarmKind kind, CaveId cave);

// The alarm of this kind that stands (is not over) over this cave, or of this probe; null if there is none. That a band
// moved and the air did not is told by others beside it (steps.hpp).
Alarm* Standing(Body& body, AlarmKind kind, CaveId cave);
Alarm* StandingOfProbe(Body& body, AlarmKind kind, ProbeId probe);
inline Alarm* StandingSilence(Body& body, ProbeId probe) {
  return StandingOfProbe(body, AlarmKind::kProbeSilent, probe);
}

// Notes of which kinds an alarm stands; whatever lists one or ends one does so itself.
void ListStanding(Body& body);

// Whether this kind may be raised over the cave now: not while it is out of service, nor while it is quiet by design.
bool MayRaise(const Body& body, AlarmKind kind, CaveId cave, Severity severity, Instant at);
// Names the alarm by its kind, subject and instant, and lists it.
void Raise(Body& body, Alarm alarm, Instant at, Decisions& out);
// It got worse: the bell that was taken or set aside for the lesser thing rings again.
void Worsen(Body& body, Alarm& alarm, Severity severity, Instant at, Decisions& out);
// It ended. Stays listed until taken.
void End(Body& body, Alarm& alarm, Instant at, Decisions& out, Ending ending = Ending::kReturned);
// Ends a setting aside: who has it in hand is not called again.
void Take(Body& body, const std::string& id, Instant tapped, Instant at, Decisions& out);
// Until a later instant; an earlier one changes nothing, nor does it where somebody has taken the alarm.
void SetAside(Body& body, const std::string& id, Instant until, Instant at, Decisions& out);
// Those whose time aside has passed by `at`.
void BringBack(Body& body, Instant at, Decisions& out);
// Quiet by design from now on, or no longer.
void Suppress(Body& body, Alarm& alarm, Instant at, Decisions& out);
void Unsuppress(Body& body, Alarm& alarm, Instant at, Decisions& out);

// ---- Conditions that are counted alike, whatever they are about ----

// What a rule found in this minute.
struct Finding {
  AlarmKind kind;
  CaveId cave;
  std::optional<ProbeId> probe{};
  std::optional<Severity> severity{};  // reached by now
  bool back = false;                   // clearly normal again
  Millis off_after{};
  Millis every = minutes{1};  // how often it is looked at
  Instant since{};
  double value = 0, extreme = 0;
  Why why = Why::kBand;
  std::optional<Figure> band{};
  std::vector<WheelId> wheels{};
  std::vector<ProbeSaid> said{};
};
// Raises, worsens or ends. `back`: how long it has been back, kept by the caller.
void Follow(Body& body, const Finding& found, Millis& back, Instant at, Decisions& out);

}  // namespace rindwatch::rules::watch
