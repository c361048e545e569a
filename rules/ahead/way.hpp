// The way of one wheel down its plan: the stages it went through, the one it is in and those to come. Whatever shows
// days to come takes them from here, so that no two places differ. Pure functions of history and plan.
#pragma once

#include <optional>
#include <vector>

#include "rules/care/schedule.hpp"

namespace rindwatch::rules {

struct WayStage {
  Date from;
  std::optional<Date> to;        // both ends in it; none: no end is written
  const Stage* stage = nullptr;  // into a plan of the history
  const Plan* plan = nullptr;    // of the history, that the stage belongs to
  const Part* part = nullptr;    // of that plan
  bool on_word = false;          // still to come, and begins when the keeper says so: `from` is the earliest day
};

// What was lived through stands as it was lived, whatever plan ruled then. What is to come goes by the plan that rules
// now, as somebody goes it who does each care when it is due and says yes to each question on its first day, but not
// before tomorrow. A day 0 belongs to the part that it begins. Without gap or overlap; empty: nothing has begun.
std::vector<WayStage> WayOf(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked);

// Day 0 of the part that the plan in force counts from `start`: as it is known, else as the way has it. None: the plan
// has no such part, or nothing has begun.
std::optional<Date> DayZeroOf(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked, StartKind start);

}  // namespace rindwatch::rules
