// Every family of the library, left at many ages: the plan of visits is held against the schedule itself.
#include <algorithm>
#include <cmath>

#include "rules/away/leaving.hpp"
#include "rules/plans/kinds.hpp"
#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

namespace {

// Each part begins as the plan usually goes, as far as that lies behind by the day.
Wheel Kept(const Plan& plan, int today) {
  Wheel wheel{plan};
  int day = 0;
  for (std::size_t n = 1; n < plan.parts.size(); ++n) {
    const auto& usual = plan.parts[n].usual_days;
    day += usual ? static_cast<int>(std::lround(usual->low)) : 1;
    if (day <= today) wheel.Start(plan.parts[n].start, day);
  }
  return wheel;
}

bool ForHelper(const CareLine& line) { return std::ranges::any_of(WholeOf(line), IsForHelper); }

// Does on the visit what a helper does, the whole line counted; tells of anything that was late by then.
void Visit(WheelHistory& wheel, const CareCalendar& calendar, Instant at) {
  CareAct act;
  act.id = std::string(32, 'a' + static_cast<char>(wheel.acts.size() % 6));
  act.at = act.known_from = at;
  std::vector<CareKind> kinds;
  for (const CareLine& line : ScheduleAt(wheel, calendar, at).lines) {
    if (!ForHelper(line) || line.Settled() || line.state == CareState::kNotYet) continue;
    if (line.state == CareState::kRetired || line.state == CareState::kNotDone) continue;
    for (const CareKind kind : WholeOf(line)) {
      if (!Contains(kinds, kind)) kinds.push_back(kind);
    }
  }
  act.done = kinds;
  act.id = "visit " + std::to_string(wheel.acts.size());
  if (!kinds.empty()) wheel.acts.push_back(std::move(act));
}

int LateLines(const WheelHistory& wheel, const CareCalendar& calendar, Instant at) {
  return static_cast<int>(std::ranges::count_if(ScheduleAt(wheel, calendar, at).lines, [](const CareLine& line) {
    return line.state == CareState::kLate && ForHelper(line);
  }));
}

}  // namespace

TEST_CASE("whatever the family and age, with its visits nothing that a helper does becomes late") {
  int absences = 0, visits = 0;
  for (const Plan& plan : PlanLibrary()) {
    for (const int age : {2, 5, 9, 15, 26, 45, 80, 150}) {
      const Wheel wheel = Kept(plan, age);
      const int back = age + 12;
      const Left left = LeaveAlone(wheel.History(), wheel.Calendar(), wheel.At(1, 8), Day(age + 1), Day(back));
      HelperLane lane(left);
      const VisitPlan planned = FewestVisits({&lane}, Day(age + 1), Day(back));
      INFO(plan.id << ", left on day " << age << ", " << planned.days.size() << " visits");
      WheelHistory lived = left.wheel;
      int late = 0;
      for (int day = age + 1; day <= back; ++day) {
        const bool visit =
            std::ranges::any_of(planned.lanes[0], [&](const LaneVisit& one) { return one.on == Day(day); });
        if (visit) Visit(lived, left.calendar, wheel.At(day, 12));
        late += LateLines(lived, left.calendar, wheel.At(day, 22));
      }
      if (late > 0) FAIL_CHECK("late lines: " << late);
      // One visit less is one too few, unless none was needed.
      if (!planned.days.empty()) CHECK(WithoutVisit(lane, Day(age + 1), Day(back)).misses > 0);
      ++absences;
      visits += static_cast<int>(planned.days.size());
    }
  }
  CHECK(absences == static_cast<int>(PlanLibrary().size()) * 8);
  CHECK(visits > absences);
}
