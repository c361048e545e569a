// How often a care comes, in days.
#pragma once

#include "rules/plans/plan.hpp"

namespace rindwatch::rules {

// Days from the doing after which the count stands at k (from 1) to the next due day, for a cadence that counts days.
// N a week is spread evenly in whole days: twice 4, 3, 4, 3, three times 3, 2, 2.
int GapOf(const Cadence& cadence, int k);

// Whole days on either side of the counted day, unless the plan says otherwise by the interval: under 2 days 0, under 5
// days 1, to 10 days 2, longer 4; once on a day 2; what does not count days 0.
int ToleranceOf(const Care& care);

// Counts days from doing to doing.
bool CountsDays(const Cadence& cadence);

}  // namespace rindwatch::rules
