#include "rules/care/cadence.hpp"

#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

TEST_CASE("N a week is spread evenly in whole days") {
  const auto gaps = [](int times) {
    std::vector<int> days;
    for (int k = 1; k <= 2 * times; ++k) days.push_back(GapOf(TimesAWeek{times}, k));
    return days;
  };
  CHECK(gaps(1) == std::vector{7, 7});
  CHECK(gaps(2) == std::vector{4, 3, 4, 3});
  CHECK(gaps(3) == std::vector{3, 2, 2, 3, 2, 2});
  CHECK(gaps(7) == std::vector(14, 1));
  for (int times = 1; times <= 7; ++times) {
    int sum = 0;
    for (int k = 1; k <= 52 * times; ++k) sum += GapOf(TimesAWeek{times}, k);
    CHECK(sum == 52 * 7);
  }
}

TEST_CASE("the tolerance goes by the interval unless the plan says otherwise") {
  const struct {
    Care care;
    int tolerance;
  } rows[] = {
      {Every(1, {kTurn}), 0},
      {Every(2, {kTurn}), 1},
      {Every(4, {kTurn}), 1},
      {Every(5, {kTurn}), 2},
      {Every(10, {kTurn}), 2},
      {Every(11, {kTurn}), 4},
      {Every(30, {kTurn}), 4},
      {AWeek(1, {kTurn}), 2},
      {AWeek(2, {kTurn}), 1},
      {AWeek(3, {kTurn}), 1},
      {AWeek(4, {kTurn}), 0},
      {AWeek(7, {kTurn}), 0},
      {Once(5, kTurn), 2},
      {TwiceADay(kTurn), 0},
      {Tolerating(3, Every(9, {kTurn})), 3},
      {Tolerating(0, Once(5, kTurn)), 0},
  };
  for (const auto& row : rows) CHECK(ToleranceOf(row.care) == row.tolerance);
}

TEST_CASE("every N days counts from the day of the last doing, early or late") {
  Wheel wheel{Always({Every(3, {kTurn})})};
  CHECK(DueDay(wheel.On(1), kTurn) == 1);
  wheel.Do(1, {kTurn});
  CHECK(DueDay(wheel.On(2), kTurn) == 4);
  wheel.Do(3, {kTurn});
  CHECK(DueDay(wheel.On(3), kTurn) == 6);
  wheel.Do(9, {kTurn});
  CHECK(DueDay(wheel.On(9), kTurn) == 12);
}

TEST_CASE("twice a week from nothing comes on days 1, 5, 8, 12, 15: the first doing ever moves no gap on") {
  CHECK(DaysDone(Wheel{Always({AWeek(2, {kWash})})}, kWash, 0, 16) == std::vector{1, 5, 8, 12, 15});
  CHECK(DaysDone(Wheel{Always({AWeek(3, {kWash})})}, kWash, 0, 16) == std::vector{1, 4, 6, 8, 11, 13, 15});
}

TEST_CASE("a pending care is not yet, open, due and late in turn, and stays one line") {
  Wheel wheel{Always({AWeek(1, {kBrush})})};  // tolerance 2
  wheel.Do(1, {kBrush});                      // counted: day 8
  const auto state = [&](int day) { return StateOf(wheel.On(day), kBrush); };
  CHECK(state(2) == CareState::kNotYet);
  CHECK(state(5) == CareState::kNotYet);
  CHECK(state(6) == CareState::kOpen);
  CHECK(state(7) == CareState::kOpen);
  CHECK(state(8) == CareState::kDue);
  CHECK(state(10) == CareState::kDue);
  CHECK(state(11) == CareState::kLate);
  const Schedule much_later = wheel.On(40);
  CHECK(much_later.lines.size() == 1);
  CHECK(Pending(much_later, kBrush)->late_since == Day(8));
  CHECK(Pending(much_later, kBrush)->window_end == Day(10));
}

TEST_CASE("a care done today shows the doing and what is next") {
  Wheel wheel{Always({Every(3, {kTurn})})};
  const ActId id = wheel.Do(1, {kTurn});
  const Schedule schedule = wheel.On(1);
  REQUIRE(schedule.lines.size() == 2);
  CHECK(schedule.lines[0].state == CareState::kDone);
  CHECK(schedule.lines[0].due == Day(1));
  CHECK(schedule.lines[0].settled_by == id);
  CHECK(schedule.lines[0].settled_at == wheel.At(1, 9));
  CHECK(schedule.lines[1].state == CareState::kNotYet);
  CHECK(schedule.lines[1].due == Day(4));
  CHECK(wheel.On(2).lines.size() == 1);
}

TEST_CASE("open cares may be done early but are not on the round") {
  Wheel wheel{Always({Every(5, {kTurn})})};
  wheel.Do(1, {kTurn});
  CHECK(StateOf(wheel.On(4), kTurn) == CareState::kOpen);
  CHECK(RoundOf(wheel.On(4)).empty());
  wheel.Do(4, {kTurn});
  CHECK(RoundOf(wheel.On(4)) == "turn done");
  CHECK(DueDay(wheel.On(4), kTurn) == 9);
}

TEST_CASE("a doing on the same day as the last doing of its kind is a repeat and moves nothing") {
  Wheel wheel{Always({AWeek(2, {kWash})})};
  wheel.Do(1, {kWash}, 8);
  wheel.Do(1, {kWash}, 20);
  CHECK(DueDay(wheel.On(2), kWash) == 5);  // k still 1
  wheel.Do(5, {kWash}, 8);
  wheel.Do(5, {kWash}, 9);
  CHECK(DueDay(wheel.On(6), kWash) == 8);
  CHECK(RoundOf(wheel.On(5)) == "wash done");
}

TEST_CASE("the days of a round are the keeper's: what is done after midnight belongs to its evening") {
  Wheel wheel{Always({Every(2, {kTurn})})};
  wheel.Do(1, {kTurn}, 25, 30);  // 01:30 on the next date
  CHECK(DueDay(wheel.On(2), kTurn) == 3);
  wheel.Do(3, {kTurn}, 28, 0);  // 04:00: the next day has begun
  CHECK(DueDay(wheel.On(5), kTurn) == 6);
}

// Common practice, no source: washed and turned daily in the first week, twice a week to day 21 and to two months, then
// brushed weekly for up to two years.
TEST_CASE(
    "the pressed semi-hard wheel in its box has 7 cares in the first week, 4 to day 21, then twice a week, weekly") {
  const Plan& library = *PlanFromLibrary("pressed-semi-hard");
  Plan plan;
  plan.parts = {library.parts[1]};
  plan.parts[0].start = StartKind::kMade;
  Wheel wheel{plan};
  CHECK(DaysDone(wheel, kWash, 0, 60) ==
        std::vector{1, 2, 3, 4, 5, 6, 7, 11, 14, 18, 21, 25, 28, 32, 35, 39, 42, 46, 49, 53, 56, 60});
  for (const int day : {1, 2, 3, 4, 5, 6, 7, 11, 14, 18, 21, 25, 28, 32, 35, 39, 42, 46, 49, 53, 56, 60}) {
    wheel.Do(day, {kWash});
  }
  const std::vector<int> brushed = DaysDone(wheel, kBrush, 61, 730);
  std::vector<int> weekly;
  for (int day = 61; day <= 730; day += 7) weekly.push_back(day);
  CHECK(brushed == weekly);
  CHECK(brushed.size() == 96);
  CHECK(brushed.back() == 726);
}

TEST_CASE("the tolerance of a line is the plan's") {
  Wheel wheel{Always({Tolerating(4, Every(6, {kOil}))})};
  wheel.Do(1, {kOil});
  CHECK(StateOf(wheel.On(3), kOil) == CareState::kOpen);
  CHECK(StateOf(wheel.On(11), kOil) == CareState::kDue);
  CHECK(StateOf(wheel.On(12), kOil) == CareState::kLate);
  CHECK(Pending(wheel.On(11), kOil)->tolerance == 4);
}
