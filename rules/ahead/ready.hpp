// When a wheel will be ready: a window, never a day, since the hand judges. Pure functions of history and plan.
#pragma once

#include <optional>
#include <vector>

#include "rules/care/schedule.hpp"

namespace rindwatch::rules {

// Both ends in it.
struct ReadyWindow {
  Date from;
  Date to;             // eat by
  bool young = false;  // by a road that ends early: eaten young
  bool operator==(const ReadyWindow&) const = default;
};

// By its plan and the start events that are known at `asked`; one that has not come is reckoned as the wheel's way has
// it. The first is that of the road that the wheel follows; while its branch is
// unanswered, the window of the road that ends early comes after it. Empty: the plan names none.
std::vector<ReadyWindow> ReadyWindowsOf(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked);

// Days from the make until the start event comes, as the plan usually goes; {0, 0} for the make itself.
struct UsualDays {
  int low = 0, high = 0;
};
UsualDays UsualDaysTo(const Plan& plan, StartKind start);
// The window of one that is made on `made`, if all goes as usual; none: the plan names none.
std::optional<ReadyWindow> UsualReadyWindow(const Plan& plan, Date made);

// From a wanted day back to the make: made on any day from `from` to `to` it can be ready on the day.
struct MakeWindow {
  Date from, to;
  bool young = false;     // by the road that ends early
  bool possible = false;  // the last of its days is today or later
};
std::optional<MakeWindow> MakeWindowFor(const Plan& plan, Date wanted, Date today);

}  // namespace rindwatch::rules
