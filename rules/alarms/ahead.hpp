// What the page asks of the watch beside the state of a cave: where its air may go, and who is there.
#pragma once

#include <optional>
#include <vector>

#include "rules/alarms/engine.hpp"
#include "rules/wheels/forecast.hpp"

namespace rindwatch::rules {

// Where the air of a cave goes in the next hours if nothing changes, while it is on its way up and away from its usual.
// Empty where nothing is foreseen: calm air, a borrowed temperature, too little heard of the rise.
std::vector<AirSpan> AirAhead(const EngineState& state, CaveId cave, Instant at);

// "How long until it matters" beside what the alarm itself foresees; empty once it is over. Of air that is too warm:
// for wheels in what stands inside its cave and has a probe of its own, for the alarm tells of those that its own
// cave's probes reach. Of a place that fell silent as a whole: for all wheels there, if no plant cools them.
std::vector<Matter> MattersWithin(const EngineState& state, const Alarm& alarm, Instant at);

// Of a place that fell silent as a whole: how warm its warmest wheels are at their core by now, four times in five, if
// no plant cools it. None: of anything else, or nothing is known of them.
std::optional<CoreSpan> CoresUnheard(const EngineState& state, const Alarm& alarm, Instant at);

// How a plant that switches on and off shows in the air of the last hour and a half: named, not counted.
struct PlantCycle {
  Millis period{0};  // from trough to trough, on average
  double swing = 0;  // K between trough and top, on average
  Instant from;      // the first trough that was seen
};
// None where the air shows no two cycles: a calm plant, a slow probe, a gap.
std::optional<PlantCycle> PlantCycleOf(const EngineState& state, CaveId cave, Instant at);

// In how long the air of a cave is at freezing: at the quickest of its paces of now at the soonest, and at twice what
// the slowest comes to, for what cools it cools less the colder it is. None: it falls by less than a degree an hour, or
// is there.
struct FreezesIn {
  Millis soonest, latest;
};
std::optional<FreezesIn> FreezesWithin(const EngineState& state, CaveId cave, Instant at);

// Air that moves towards its band is on its way back only if it is there within the hour at its pace of now. True of
// humidity, which goes up and down with each cycle.
bool ComesBack(const EngineState& state, const Alarm& alarm, Instant at);

// When the air of a cave leaves its band, as its last windows go on; none: it does not drift.
std::optional<Instant> LeavesAt(const EngineState& state, CaveId cave, ChannelKind kind, Instant at);

// The mean of the last day of a cave's own temperature, over its probes that speak; none: nothing was heard.
std::optional<double> DayMeanOf(const EngineState& state, CaveId cave, Instant at);
// That of the days before it, by which a day that is up is judged; known of a probe that is silent now too.
std::optional<double> DaysBeforeOf(const EngineState& state, CaveId cave, Instant at);

// The band by which warm air is judged: that of before while a band that has moved under it is forgiven.
std::optional<Figure> WarmthJudgedBy(const EngineState& state, CaveId cave);

// Until when a keeper said "I am here", in this cave or where its air comes from; none: nobody did, or is out again.
std::optional<Instant> HereUntil(const EngineState& state, CaveId cave, Instant at);

}  // namespace rindwatch::rules
