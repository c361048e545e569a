// How the house stands: alarms that last, what happened in the night, the caves.
#pragma once

#include "daemon/api/context.hpp"
#include "daemon/morning/facts.hpp"

namespace rindwatch::morning {

void AddStanding(const ApiContext& context, List& list);

}  // namespace rindwatch::morning
