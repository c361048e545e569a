#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

TEST_CASE("a skip settles the care without being a doing: the next is counted from the skipped due day") {
  Wheel wheel{Always({Every(5, {kTurn})})};
  wheel.Do(1, {kTurn});
  const ActId skip = wheel.Skip(7, {kTurn});  // due on day 6
  const Schedule schedule = wheel.On(7);
  CHECK(RoundOf(schedule) == "turn skipped");
  CHECK(schedule.lines[0].reason == "rind wet");
  CHECK(schedule.lines[0].settled_by == skip);
  CHECK(schedule.lines[0].due == Day(6));
  CHECK(DueDay(schedule, kTurn) == 11);
}

TEST_CASE("after a skip the next is due on the day after at the earliest") {
  Wheel wheel{Always({Every(1, {kTurn})})};
  wheel.Do(1, {kTurn});
  wheel.Skip(6, {kTurn});  // late since day 2
  CHECK(DueDay(wheel.On(6), kTurn) == 7);
}

TEST_CASE("a skip moves the gap on as a doing does") {
  Wheel wheel{Always({AWeek(2, {kWash})})};
  wheel.Do(1, {kWash});
  wheel.Skip(5, {kWash});
  CHECK(DueDay(wheel.On(5), kWash) == 8);
  wheel.Do(8, {kWash});
  CHECK(DueDay(wheel.On(8), kWash) == 12);
}

TEST_CASE("the first skip ever moves no gap on") {
  Wheel wheel{Always({AWeek(2, {kWash})})};
  wheel.Skip(1, {kWash});
  CHECK(DueDay(wheel.On(1), kWash) == 5);
  wheel.Do(5, {kWash});
  CHECK(DueDay(wheel.On(5), kWash) == 8);
}

TEST_CASE("a second skip of a care on one day is a repeat") {
  Wheel wheel{Always({Every(3, {kTurn})})};
  wheel.Do(1, {kTurn});
  wheel.Skip(4, {kTurn}, 8);
  wheel.Skip(4, {kTurn}, 9);
  CHECK(DueDay(wheel.On(4), kTurn) == 7);
  CHECK(RoundOf(wheel.On(4)) == "turn skipped");
}

TEST_CASE("a doing later on the day of a skip takes its place and does not move the gap on again") {
  Wheel wheel{Always({AWeek(2, {kWash})})};
  wheel.Do(1, {kWash});
  wheel.Skip(6, {kWash}, 8);  // due on day 5, next would be 8
  wheel.Do(6, {kWash}, 20);
  CHECK(RoundOf(wheel.On(6, 21)) == "wash done");
  CHECK(DueDay(wheel.On(6, 21), kWash) == 9);  // 6 and the gap of 3 that the skip moved to
  wheel.Do(9, {kWash});
  CHECK(DueDay(wheel.On(9), kWash) == 13);
}

TEST_CASE("a doing after a skip on the day of an earlier doing is a repeat: the skip stands") {
  Wheel wheel{Always({Every(3, {kTurn})})};
  wheel.Do(1, {kTurn}, 7);
  wheel.Skip(1, {kTurn}, 8);  // of the next, due on day 4
  wheel.Do(1, {kTurn}, 9);
  CHECK(DueDay(wheel.On(2), kTurn) == 7);
}

TEST_CASE("acts of one instant are taken skips first, then doings") {
  Wheel wheel{Always({Every(3, {kTurn})})};
  wheel.Do(1, {kTurn});
  wheel.Do(4, {kTurn}, 9);
  wheel.Skip(4, {kTurn}, 9);
  CHECK(RoundOf(wheel.On(4)) == "turn done");
  CHECK(DueDay(wheel.On(4), kTurn) == 7);
}
