// How the house stands: alarms that last, what rang and is over, the caves.
#pragma once

#include "daemon/api/context.hpp"
#include "daemon/morning/facts.hpp"

namespace rindwatch::morning {

// One that lasts, as the morning list tells it.
Alarm AlarmOf(const ApiContext& context, const rules::Alarm& alarm);

// "Its probes: Shelf 12.4°, Door 16.1°."; of one that is stuck what it repeats. Empty: nothing is told of probes.
std::string SaidWords(const ApiContext& context, const rules::Alarm& alarm);

// "Sat 21 does not count: too cold."; empty: it costs no day of a wheel's qualifying age.
std::string LostWords(const ApiContext& context, const rules::Alarm& alarm);

// `told_until`: when what was over by then had been told.
void AddStanding(const ApiContext& context, rules::Instant told_until, List& list);

}  // namespace rindwatch::morning
