#include "rules/care/standing.hpp"

namespace rindwatch::rules {
namespace {

int DaysBetween(Date from, Date to) { return static_cast<int>((to - from).count()); }

// On a day 0 whose part begins with day 1 the wheel lies where the first stage wants it already.
const Stage* StageOn(const Timeline& timeline, const Span& span, Date day) {
  if (timeline.IsDayZero(day)) return &span.TheRoad().Front();
  const Segment* segment = timeline.StageOfActs(day);
  return segment ? segment->stage : nullptr;
}

// Only the last part has a written end; a road without one is never outlived.
bool IsPastPlan(const Span& span, Date day) {
  if (span.part + 1 != span.given->plan->parts.size()) return false;
  const Road road = span.TheRoad();
  return road.Size() > 0 && road.Back().last_day && span.DayOfPart(day) > *road.Back().last_day;
}

// Counted from the make where it is known, else from the start of the plan's first part.
int AgeOn(const Known& known, const Plan& plan, Date day) {
  const StartEvent* birth = known.StartOf(StartKind::kMade);
  if (!birth && !plan.parts.empty()) birth = known.StartOf(plan.parts.front().start);
  return birth ? DaysBetween(birth->day, day) : 0;
}

}  // namespace

Standing StandingOn(const Known& known, const Timeline& timeline, Date day) {
  Standing standing;
  const PlanFrom* given = timeline.PlanOn(day);
  if (!given) return standing;
  standing.plan = given->plan;
  standing.age = AgeOn(known, *given->plan, day);
  const Span* span = timeline.SpanOn(day);
  if (!span) return standing;
  standing.part = span->part;
  standing.stage = StageOn(timeline, *span, day);
  standing.day = span->DayOfPart(day);
  standing.part_start = span->start->day;
  standing.reckoned = span->start->reckoned;
  standing.past_plan = IsPastPlan(*span, day);
  if (span->option) standing.branch_option = span->option->name;
  return standing;
}

Standing StandingAt(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked) {
  const Known known = StandingKnownAt(wheel, asked);
  const Timeline timeline(known, calendar.turn);
  Standing standing = StandingOn(known, timeline, calendar.turn.DayOf(asked));
  standing.gone = wheel.gone && *wheel.gone <= asked;
  return standing;
}

}  // namespace rindwatch::rules
