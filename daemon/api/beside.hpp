// What other thermometers say where one of them says nothing, or nothing that can be believed. The loop's thread.
#pragma once

#include <string>
#include <vector>

#include "daemon/api/context.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

struct SaidBeside {
  const ProbeRow* probe;
  rules::CaveId cave;
  double value;  // degrees Celsius
};
// Those of the alarm's place and of what stands in it that speak and are believed, the place's own first; without the
// probe that the alarm is about.
std::vector<SaidBeside> SpeaksBeside(const ApiContext& context, const rules::Alarm& alarm);

// "Door, in the same place, speaks: 12.4 °C." and "Box 1, in it, says 12.4 °C.": of a thermometer that is silent or
// stuck, and of warmth or cold whose air nobody knows for that. Empty: of anything else, or nothing else speaks.
std::string HeardBeside(const ApiContext& context, const rules::Alarm& alarm);

// Of warmth or cold: one of them says that it goes on, beyond the band that it rang by.
bool GoesOnBeside(const ApiContext& context, const rules::Alarm& alarm);

// "Box 2, Box 3 go by it too.": what stands there and has no thermometer of its own. Empty: nothing does.
std::string GoByIt(const ApiContext& context, const rules::Alarm& alarm);

// "Box 1 says 14.9 °C: go by that.", of a time of which nothing was heard: where others say clearly otherwise than
// `after`, by which its end was told, or that probe is doubted. Empty: they say the same, or nothing.
std::string OtherwiseBeside(const ApiContext& context, const rules::Alarm& alarm, double after);

}  // namespace rindwatch
