// What is left of a list: for the evening, when the morning's lines are struck.
#pragma once

#include "daemon/morning/facts.hpp"

namespace rindwatch::morning {

// Without the lines that are settled. What is changed between two sections that stay is what was
// changed on the way.
List LeftOf(List list);

}  // namespace rindwatch::morning
