#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

TEST_CASE("a kind never done is due on the first day of the stages through which its care runs") {
  const Wheel wheel{
      PlanOf({StageOf(1, 4, {}), StageOf(5, 9, {AWeek(1, {kBrush})}), StageOf(10, {}, {AWeek(1, {kBrush})})})};
  CHECK(Pending(wheel.On(4), kBrush) == nullptr);
  CHECK(DueDay(wheel.On(5), kBrush) == 5);
  CHECK(DueDay(wheel.On(12), kBrush) == 5);
  CHECK(StateOf(wheel.On(12), kBrush) == CareState::kLate);
}

TEST_CASE("a counted due day before the first day of the stages becomes that day") {
  Wheel wheel{PlanOf({StageOf(1, 9, {}), StageOf(10, {}, {AWeek(1, {kBrush})})})};
  wheel.Do(2, {kBrush});
  CHECK(DueDay(wheel.On(10), kBrush) == 10);
  wheel.Do(10, {kBrush});
  CHECK(DueDay(wheel.On(10), kBrush) == 17);
}

TEST_CASE("the gap moves on also where the due day had become the stage's first day") {
  Wheel wheel{PlanOf({StageOf(1, 9, {}), StageOf(10, {}, {AWeek(2, {kWash})})})};
  wheel.Do(2, {kWash});  // counted day 6, before the stage
  wheel.Do(10, {kWash});
  CHECK(DueDay(wheel.On(10), kWash) == 13);  // the second gap, 3
}

TEST_CASE("nothing is due before the day on which the wheel was entered: what went before is unknown") {
  const Wheel wheel{Always({Every(3, {kTurn})}), 10};
  CHECK(DueDay(wheel.On(10), kTurn) == 10);
  CHECK(StateOf(wheel.On(10), kTurn) == CareState::kDue);
  CHECK(StateOf(wheel.On(9), kTurn) != CareState::kLate);
  CHECK(RoundOf(wheel.On(9)).empty());
}

TEST_CASE("acts typed in for before the entry count, under the first plan") {
  Wheel wheel{Always({Every(5, {kWash}, {kTurn}), Every(2, {kTurn})}), 10};
  wheel.Do(8, {kWash});
  wheel.History().acts.back().known_from = wheel.At(10, 8);
  CHECK(DueDay(wheel.On(10), kWash) == 13);
  CHECK(DueDay(wheel.On(10), kTurn) == 10);  // the wash brought it on day 8
  wheel.History().acts.back().at = wheel.At(2, 9);
  CHECK(DueDay(wheel.On(10), kWash) == 10);  // counted day 7 has become the day of entry
}

TEST_CASE("nothing becomes late on the day after entry: what was due on the day of entry is still due then") {
  const Wheel wheel{Always({Every(1, {kTurn})}), 10};
  CHECK(StateOf(wheel.On(10), kTurn) == CareState::kDue);
  CHECK(StateOf(wheel.On(11), kTurn) == CareState::kDue);
  CHECK(DueDay(wheel.On(11), kTurn) == 10);
  CHECK(Pending(wheel.On(11), kTurn)->window_end == Day(11));
  CHECK(StateOf(wheel.On(12), kTurn) == CareState::kLate);
  CHECK(Pending(wheel.On(12), kTurn)->late_since == Day(10));
}

TEST_CASE("a wheel that was given its first plan after its entry owes nothing from before the plan") {
  Wheel wheel{Always({Every(3, {kTurn})}), 2};
  wheel.History().plans[0].from = wheel.At(9, 12);
  CHECK(DueDay(wheel.On(9, 13), kTurn) == 9);
}
