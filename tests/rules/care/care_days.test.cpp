#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

// Day 0 is a Monday: day 1 a Tuesday, days 6, 13, 20 Sundays.
namespace {

constexpr unsigned kMonday = 1, kTuesday = 2, kWednesday = 3, kThursday = 4, kFriday = 5, kSaturday = 6, kSunday = 7;

Wheel With(Plan plan, std::set<unsigned> care_days) {
  Wheel wheel{std::move(plan)};
  wheel.Calendar().care_days = std::move(care_days);
  return wheel;
}

}  // namespace

TEST_CASE("the due day moves towards the nearest care day by at most the tolerance") {
  Wheel wheel = With(Always({AWeek(1, {kBrush})}), {kFriday});
  wheel.Do(1, {kBrush});  // counted: Tuesday 8; nearest Friday is 11, three days on; the tolerance is 2
  CHECK(DueDay(wheel.On(8), kBrush) == 10);
  wheel.Do(10, {kBrush});  // counted: Thursday 17
  CHECK(DueDay(wheel.On(17), kBrush) == 18);
}

TEST_CASE("of two care days equally near it is the earlier") {
  Wheel wheel = With(Always({AWeek(1, {kBrush})}), {kMonday, kWednesday});
  wheel.Do(1, {kBrush});  // counted: Tuesday 8
  CHECK(DueDay(wheel.On(2), kBrush) == 7);
}

TEST_CASE("a care without tolerance is not moved") {
  Wheel wheel = With(Always({Every(1, {kTurn})}), {kSaturday});
  wheel.Do(1, {kTurn});
  CHECK(DueDay(wheel.On(2), kTurn) == 2);
}

TEST_CASE("the window stays around the counted day") {
  Wheel later = With(Always({AWeek(1, {kBrush})}), {kThursday});
  later.Do(1, {kBrush});  // counted Tuesday 8, moved to Thursday 10
  CHECK(StateOf(later.On(5), kBrush) == CareState::kNotYet);
  CHECK(StateOf(later.On(6), kBrush) == CareState::kOpen);
  CHECK(StateOf(later.On(9), kBrush) == CareState::kOpen);
  CHECK(StateOf(later.On(10), kBrush) == CareState::kDue);
  CHECK(StateOf(later.On(11), kBrush) == CareState::kLate);
  CHECK(Pending(later.On(11), kBrush)->late_since == Day(10));
  Wheel earlier = With(Always({AWeek(1, {kBrush})}), {kSunday});
  earlier.Do(1, {kBrush});  // moved to Sunday 6
  CHECK(StateOf(earlier.On(6), kBrush) == CareState::kDue);
  CHECK(StateOf(earlier.On(10), kBrush) == CareState::kDue);
  CHECK(StateOf(earlier.On(11), kBrush) == CareState::kLate);
}

TEST_CASE("a move stops at the ends of the stages, at entry and at the day after the last doing or skip") {
  Wheel stage_end = With(PlanOf({StageOf(1, 8, {AWeek(1, {kBrush})}), StageOf(9, {}, {})}), {kThursday});
  stage_end.Do(1, {kBrush});
  CHECK(DueDay(stage_end.On(8), kBrush) == 8);
  Wheel stage_start = With(PlanOf({StageOf(1, 4, {}), StageOf(5, {}, {AWeek(1, {kBrush})})}), {kThursday});
  CHECK(DueDay(stage_start.On(5), kBrush) == 5);  // Thursday 3 lies before the stage
  Wheel entry{Always({AWeek(1, {kBrush})}), 5};
  entry.Calendar().care_days = {kThursday};
  CHECK(DueDay(entry.On(5), kBrush) == 5);
  Wheel after_doing = With(Always({Tolerating(4, Every(5, {kOil}))}), {kFriday});
  after_doing.Do(4, {kOil});  // counted: Wednesday 9; the nearest Friday is 11
  CHECK(DueDay(after_doing.On(5), kOil) == 11);
  after_doing.Calendar().care_days = {kSaturday};  // Saturday 12 and Saturday 5: 3 days on
  CHECK(DueDay(after_doing.On(5), kOil) == 12);
  after_doing.Skip(8, {kOil});  // counted: 14, a Monday; Saturday 12
  CHECK(DueDay(after_doing.On(9), kOil) == 12);
  after_doing.Calendar().care_days = {kTuesday};
  CHECK(DueDay(after_doing.On(9), kOil) == 15);
}

TEST_CASE("where a moved due day lands on day 0 it becomes day 1") {
  Wheel wheel =
      With(WithPart(Always({AWeek(1, {kBrush})}), StartKind::kEnteredBox, 2, {StageOf(1, {}, {AWeek(1, {kBrush})})}),
           {kMonday});
  wheel.Do(1, {kBrush});  // counted: Tuesday 8, moved to Monday 7
  wheel.Start(StartKind::kEnteredBox, 7);
  CHECK(DueDay(wheel.On(7), kBrush) == 8);
}

TEST_CASE("once cares move too") {
  const Wheel wheel = With(Always({Once(9, kPierce)}), {kFriday});
  CHECK(DueDay(wheel.On(9), kPierce) == 11);
}

TEST_CASE("a care may stop short of its care day and come nearer each time") {
  Wheel wheel = With(Always({Tolerating(1, Every(7, {kBrush}))}), {kFriday});
  std::vector<int> days = DaysDone(wheel, kBrush, 0, 40);
  CHECK(days == std::vector{2, 10, 18, 25, 32, 39});  // Wednesday, Thursday, then Fridays
}

TEST_CASE("two once cares of a kind never come on one day by a care day: the second doing of it would be a repeat") {
  Wheel wheel = With(Always({Once(8, kPierce), Once(10, kPierce)}), {kTuesday});
  CHECK(DueDay(wheel.On(2), kPierce) == 8);
  wheel.Do(8, {kPierce});
  CHECK(DueDay(wheel.On(8), kPierce) == 9);
  CHECK(RoundOf(wheel.On(8)) == "pierce done");
  wheel.Do(9, {kPierce});
  CHECK(RoundOf(wheel.On(10)).empty());
}
