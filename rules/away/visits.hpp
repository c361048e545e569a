// The fewest visits to a cellar whose keeper is away. What is asked next depends on the day of the visit before, so the
// search goes through what each life can come to, not through fixed windows. Pure and deterministic.
#pragma once

#include <functional>
#include <vector>

#include "rules/time.hpp"

namespace rindwatch::rules {

// Both ends in it. Before `opens` nothing is done; after `end` it is late.
struct VisitWindow {
  Date opens;
  Date end;
  bool operator==(const VisitWindow&) const = default;
};

// What one life asks for, as it follows from the days of the absence on which it was done. With no day: the first
// window after the keeper left. A window that ends on the day of return or later needs no visit.
class VisitLane {
 public:
  virtual ~VisitLane() = default;
  virtual VisitWindow WindowAfter(const std::vector<Date>& done) = 0;
  // Doings after which all that follows is alike have one key: cheap lanes name the last day alone.
  virtual std::vector<int> KeyOf(const std::vector<Date>& done) = 0;
};

struct LaneVisit {
  VisitWindow window;
  Date on;
};
struct VisitPlan {
  std::vector<Date> days;
  // Of each lane what is done when, as little as keeps it inside its windows; in order.
  std::vector<std::vector<LaneVisit>> lanes;
  // False: there were too many ways to look through them all, and there may be a plan with fewer visits.
  bool exact = true;
};

// `from` is the first day on which somebody can come, `back` the day of return, on which the keeper is there. A window
// that ends before `from` cannot be kept and asks for a visit on `from`. Of plans with equally few visits the one whose
// visits are latest, from the first on. Exact for all that three weeks of a cellar come to; what would take too long is
// visited whenever somebody has to come.
VisitPlan FewestVisits(const std::vector<VisitLane*>& lanes, Date from, Date back);

// What happens with no visit at all.
struct Unvisited {
  Date until;      // the last day of its first window
  int misses = 0;  // windows that end before the return, were each of them done on its last day
};
Unvisited WithoutVisit(VisitLane& lane, Date from, Date back);

}  // namespace rindwatch::rules
