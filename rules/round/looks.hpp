// What to look at first is said once a place, however many cares are late there.
#pragma once

#include <vector>

#include "rules/round/round.hpp"

namespace rindwatch::rules {

// Of each line of the round what is to be said at it: what was not said at an earlier line of its place that is still
// open. Wheels with a mark come later and are told by themselves.
std::vector<std::vector<LookFirst>> LooksToSay(const Round& round);

}  // namespace rindwatch::rules
