// What lies behind a wheel by a plan that it is given late. Pure functions of history and plan.
#pragma once

#include <vector>

#include "rules/care/history.hpp"

namespace rindwatch::rules {

struct StartBehind {
  StartKind kind = StartKind::kMade;
  Date day;
  bool reckoned = true;  // proposed from the plan's usual length, not seen
  bool operator==(const StartBehind&) const = default;
};

// The start events of `plan` that the wheel knows nothing of and that lie behind it, if it is given the plan at `at`: a
// wheel of six weeks is not asked whether its brine has dried. Its first part begins where the wheel's life began; what
// a keeper answered to the same question under another plan counts; else the middle of the plan's usual length, if that
// day is over. What only hands do (a care, the cold store) is never taken for done, and what the plan before counts
// from too is left as it stands, answered or not; nothing later has begun then either.
std::vector<StartBehind> StartsBehind(const WheelHistory& wheel, const Plan& plan, const DayTurn& turn, Instant at);

}  // namespace rindwatch::rules
