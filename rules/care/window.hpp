// From the counted day of a care to its states: when it opens, is due, and becomes late.
#pragma once

#include "rules/care/ground.hpp"
#include "rules/care/schedule.hpp"

namespace rindwatch::rules {

// The window stays around the counted day; a care day may move the due day inside it.
struct Window {
  Date opens;
  Date due;
  Date end;  // the last day on which it is not late
};

// Where a due day may move to: the stages the care runs through, entry, and the day after its last deed.
struct Bounds {
  Date earliest, latest;
};

Window WindowAround(const Ground& ground, Date counted, int tolerance, const Bounds& bounds);
// A care that was moved to the day of return, or that waits for an agreed one, stays on its day, whatever the care
// days. The agreed care itself moves with them as any other (WindowAround).
Window FixedWindow(const Ground& ground, Date counted, int tolerance);

CareState StateOn(const Ground& ground, const Window& window, Date day);
// Late on the last day before an absence: then the return changes nothing.
bool IsLateBefore(const Window& window, const Absence& absence);

}  // namespace rindwatch::rules
