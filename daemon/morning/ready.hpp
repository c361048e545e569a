// Which wheels have come into the days in which they are ready by their plan, and for which these have ended: each told
// once, by the first list after.
#pragma once

#include "daemon/api/context.hpp"
#include "daemon/morning/facts.hpp"

namespace rindwatch::morning {

// Of the days after that of `told_until`, up to the list's. What is held is not told.
void AddReady(const ApiContext& context, rules::Instant told_until, List& list);

}  // namespace rindwatch::morning
