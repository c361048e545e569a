#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

TEST_CASE("on away days nothing becomes late, and the day of return is the counted due day") {
  Wheel wheel{Always({Every(3, {kTurn})})};  // tolerance 1
  wheel.Do(1, {kTurn});
  wheel.Away(4, 9);
  CHECK(StateOf(wheel.On(4), kTurn) == CareState::kDue);
  CHECK(DueDay(wheel.On(8), kTurn) == 4);
  CHECK(StateOf(wheel.On(9), kTurn) == CareState::kDue);
  const Schedule schedule = wheel.On(10);
  CHECK(Pending(schedule, kTurn)->due == Day(10));
  CHECK(Pending(schedule, kTurn)->away);
  CHECK(StateOf(wheel.On(11), kTurn) == CareState::kDue);
  CHECK(Pending(wheel.On(12), kTurn)->late_since == Day(10));
}

TEST_CASE("what was late before the absence stays late, what would have become late on its first day does not") {
  Wheel late{Always({Every(3, {kTurn})})};
  late.Do(1, {kTurn});  // late from day 6
  late.Away(7, 9);
  CHECK(StateOf(late.On(8), kTurn) == CareState::kLate);
  CHECK(Pending(late.On(10), kTurn)->late_since == Day(4));
  CHECK(!Pending(late.On(10), kTurn)->away);
  Wheel due{Always({Every(3, {kTurn})})};
  due.Do(1, {kTurn});
  due.Away(6, 9);
  CHECK(StateOf(due.On(8), kTurn) == CareState::kDue);
  CHECK(DueDay(due.On(10), kTurn) == 10);
}

TEST_CASE("a care that falls due on the day of return is not moved") {
  Wheel wheel{Always({Every(3, {kTurn})})};
  wheel.Do(1, {kTurn});
  wheel.Away(2, 3);
  CHECK(DueDay(wheel.On(4), kTurn) == 4);
  CHECK(!Pending(wheel.On(4), kTurn)->away);
}

TEST_CASE("the day of return is not moved by care days") {
  Wheel wheel{Always({AWeek(1, {kBrush})})};
  wheel.Calendar().care_days = {5};
  wheel.Do(1, {kBrush});
  wheel.Away(9, 13);
  CHECK(DueDay(wheel.On(14), kBrush) == 14);
}

TEST_CASE("a due day counts as moved by care days") {
  Wheel wheel{Always({AWeek(1, {kBrush})})};
  wheel.Calendar().care_days = {4};  // counted Tuesday 8 moves to Thursday 10, the day of return
  wheel.Do(1, {kBrush});
  wheel.Away(5, 9);
  CHECK(DueDay(wheel.On(10), kBrush) == 10);
  CHECK(!Pending(wheel.On(10), kBrush)->away);
}

TEST_CASE("a doing during the absence counts, and the next due day before the return moves to it") {
  Wheel wheel{Always({Every(1, {kTurn})})};
  wheel.Do(3, {kTurn});
  wheel.Away(4, 9);
  wheel.Do(6, {kTurn});
  CHECK(DueDay(wheel.On(7), kTurn) == 7);
  CHECK(DueDay(wheel.On(10), kTurn) == 10);
}

TEST_CASE("the skip of a care moved to the day of return counts from there") {
  Wheel wheel{Always({Every(3, {kTurn})})};
  wheel.Do(1, {kTurn});
  wheel.Away(4, 9);
  wheel.Skip(11, {kTurn});
  CHECK(DueDay(wheel.On(11), kTurn) == 13);
}

TEST_CASE("absences one after the other each move what they meet, and may be marked in any order and afterwards") {
  Wheel wheel{Always({Every(3, {kTurn})})};
  wheel.Do(1, {kTurn});
  CHECK(StateOf(wheel.On(15), kTurn) == CareState::kLate);
  wheel.Away(11, 14);
  wheel.Away(4, 9);  // day 10 at home, on which the turn was due
  CHECK(DueDay(wheel.On(10), kTurn) == 10);
  CHECK(StateOf(wheel.On(14), kTurn) == CareState::kDue);
  CHECK(DueDay(wheel.On(15), kTurn) == 15);
}

TEST_CASE("once cares come back on the day of return too") {
  Wheel wheel{Always({Once(5, kPierce)})};
  wheel.Away(5, 12);
  CHECK(DueDay(wheel.On(13), kPierce) == 13);
  CHECK(Pending(wheel.On(13), kPierce)->away);
  CHECK(StateOf(wheel.On(15), kPierce) == CareState::kDue);
  CHECK(StateOf(wheel.On(16), kPierce) == CareState::kLate);
}

TEST_CASE("a changed setting holds for past days too") {
  Wheel wheel{Always({Every(2, {kTurn})})};
  wheel.Do(1, {kTurn}, 27);  // 03:00
  CHECK(DueDay(wheel.On(3), kTurn) == 3);
  wheel.Calendar().turn.hour = 2;  // 03:00 belongs to the next day now
  CHECK(DueDay(wheel.On(3), kTurn) == 4);
}

TEST_CASE("a due day that a care day moves to the return counts as the stage of the return has it") {
  Wheel wheel{PlanOf({StageOf(1, 7, {Tolerating(0, Every(5, {kTurn}))}), StageOf(8, {}, {Every(5, {kTurn})})})};
  wheel.Calendar().care_days = {6};  // day 12 is a Saturday
  wheel.Do(6, {kTurn});              // counted: day 11
  wheel.Away(7, 11);
  CHECK(DueDay(wheel.On(11), kTurn) == 12);
  CHECK(DueDay(wheel.On(12), kTurn) == 12);
  CHECK(!Pending(wheel.On(12), kTurn)->away);
}
