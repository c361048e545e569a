// Whom a fault may have come from, or may go to: the wheels to look at besides those that have it.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "rules/alarms/engine.hpp"
#include "rules/faults/faults.hpp"

namespace rindwatch::rules {

// Where a wheel lies; only such as are not gone.
struct LyingWheel {
  WheelId wheel = 0;
  std::int64_t lot = 0;
  CaveId cave = 0;
  std::string shelf;  // empty: a cave without shelves, as a box
};

struct LookAgain {
  std::vector<WheelId> these;       // with the fault
  std::vector<WheelId> neighbours;  // on the same shelf and on those next to it
  std::vector<WheelId> sisters;     // of the same lot, elsewhere
};

// `shelves` names those of each cave in walking order; a shelf that is not named there has no next one. The three lists
// share no wheel and keep the order of `lying`.
LookAgain WhereToLookAgain(const FaultAdvice& advice, const std::vector<WheelId>& with_fault,
                           const std::vector<LyingWheel>& lying,
                           const std::map<CaveId, std::vector<std::string>>& shelves);

}  // namespace rindwatch::rules
