// How the house stands: alarms that last, what happened in the night, the caves.
#pragma once

#include "daemon/api/context.hpp"
#include "daemon/morning/facts.hpp"

namespace rindwatch::morning {

// One that lasts, as the morning list tells it.
Alarm AlarmOf(const ApiContext& context, const rules::Alarm& alarm);

void AddStanding(const ApiContext& context, List& list);

}  // namespace rindwatch::morning
