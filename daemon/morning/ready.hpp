// Which wheels have come into the days in which they are ready by their plan, and for which these have ended: each told
// once, by the first list after.
#pragma once

#include "daemon/api/context.hpp"
#include "daemon/morning/facts.hpp"

namespace rindwatch::morning {

// Of the days after that of `told_until`, up to the list's. What is held is told by the first list after it was let
// go.
void AddReady(const ApiContext& context, rules::Instant told_until, List& list);

}  // namespace rindwatch::morning
