#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

TEST_CASE("the same kinds and cadence in adjoining stages are one care: count and lateness run through") {
  Wheel wheel{PlanOf({StageOf(1, 7, {AWeek(2, {kWash})}), StageOf(8, {}, {AWeek(2, {kWash})})})};
  wheel.Do(1, {kWash});
  CHECK(Pending(wheel.On(9), kWash)->late_since == Day(5));
  wheel.Do(7, {kWash});
  CHECK(DueDay(wheel.On(8), kWash) == 10);  // the second gap, 3
  wheel.Do(10, {kWash});
  CHECK(DueDay(wheel.On(10), kWash) == 14);
}

TEST_CASE("another cadence counts the new gap from the last doing, from its first gap on") {
  Wheel wheel{PlanOf({StageOf(1, 7, {AWeek(3, {kWash})}), StageOf(8, {}, {AWeek(2, {kWash})})})};
  wheel.Do(1, {kWash});
  wheel.Do(4, {kWash});
  wheel.Do(6, {kWash});
  CHECK(DueDay(wheel.On(8), kWash) == 10);  // 6 and the first gap of 4
  wheel.Do(10, {kWash});
  CHECK(DueDay(wheel.On(10), kWash) == 13);
}

TEST_CASE("a care that counts past the last of its stages is not asked there, and no care day brings it back") {
  Wheel wheel{PlanOf({StageOf(1, 9, {AWeek(1, {kBrush})}), StageOf(10, {}, {Every(30, {kBrush})})})};
  wheel.Do(3, {kBrush});                // counted: day 10, past the stage
  wheel.Calendar().care_days = {2, 3};  // day 8 is a Tuesday, day 9 a Wednesday
  CHECK(Pending(wheel.On(8), kBrush) == nullptr);
  CHECK(Pending(wheel.On(9), kBrush) == nullptr);
  CHECK(DueDay(wheel.On(10), kBrush) == 33 - 3);  // day 33, a Saturday, moves to the care day Wednesday 30
}

TEST_CASE("a kind that the new stage does not have is retired, and named once if it was on the round") {
  Wheel wheel{PlanOf({StageOf(1, 7, {AWeek(1, {kBrush}), Every(1, {kTurn})}), StageOf(8, {}, {Every(2, {kTurn})})})};
  CHECK(RoundOf(wheel.On(7)) == "brush late, turn late");
  CHECK(RoundOf(wheel.On(8)) == "turn due, brush retired");
  CHECK(LineIn(wheel.On(8), CareState::kRetired)->due == Day(1));
  CHECK(RoundOf(wheel.On(9)) == "turn due");
  wheel.Do(7, {kBrush});
  CHECK(RoundOf(wheel.On(8)) == "turn due");
}

TEST_CASE("a brought kind is retired with the care that brought it, unless the new stage has it") {
  Wheel kept{PlanOf({StageOf(1, 7, {Every(1, {kWash}, {kTurn})}), StageOf(8, {}, {AWeek(1, {kBrush}, {kTurn})})})};
  CHECK(RoundOf(kept.On(8)) == "brush+turn due, wash retired");
  Wheel gone{PlanOf({StageOf(1, 7, {Every(1, {kWash}, {kTurn})}), StageOf(8, {}, {AWeek(1, {kBrush})})})};
  CHECK(RoundOf(gone.On(8)) == "brush due, wash+turn retired");
}

TEST_CASE("a repeat is no last doing for the cadence that follows either") {
  Wheel kinds{PlanOf({StageOf(1, 7, {}), StageOf(8, {}, {Every(2, {kWash, kBrush})})})};
  kinds.Do(7, {kWash}, 8);
  kinds.Do(7, {kBrush}, 9);
  kinds.Do(7, {kWash}, 10);  // the second wash of the day
  CHECK(DueDay(kinds.On(8), kWash) == 9);
  Wheel hours{PlanOf({StageOf(1, 7, {TwiceADay(kTurn)}), StageOf(8, {}, {Every(3, {kTurn})})})};
  hours.Do(6, {kTurn}, 25);
  hours.Do(7, {kTurn}, 5);  // four hours later
  CHECK(DueDay(hours.On(8), kTurn) == 9);
  hours.Do(7, {kTurn}, 7);
  CHECK(DueDay(hours.On(8), kTurn) == 10);
}

TEST_CASE("of alternate kinds the one that was asked is retired, though another goes on") {
  Wheel wheel{PlanOf({StageOf(1, 7, {Every(3, {kWash, kTurn})}), StageOf(8, {}, {Every(1, {kTurn})})})};
  CHECK(RoundOf(wheel.On(8)) == "turn due, wash retired");
  wheel.Do(3, {kWash});  // the turn is asked next, and goes on
  CHECK(RoundOf(wheel.On(7)) == "turn due");
  CHECK(RoundOf(wheel.On(8)) == "turn due");
}

TEST_CASE("a brought kind is retired where the care that brought it goes on without it") {
  Wheel wheel{PlanOf({StageOf(1, 7, {Every(2, {kWash}, {kTurn})}), StageOf(8, {}, {Every(2, {kWash})})})};
  CHECK(RoundOf(wheel.On(8)) == "wash late, turn retired");
  CHECK(RoundOf(wheel.On(9)) == "wash late");
  wheel.Do(7, {kWash});
  CHECK(RoundOf(wheel.On(8)).empty());
}

TEST_CASE(
    "a new plan rules from the whole day of the change; the same care runs through, another is due then at the "
    "earliest") {
  Wheel wheel{Always({Every(3, {kTurn}), Every(2, {kPat})})};
  wheel.Do(1, {kTurn});
  wheel.Do(1, {kPat});
  wheel.Change(Always({Every(3, {kTurn}), Every(5, {kPat}), AWeek(1, {kBrush})}), 10, 20);
  CHECK(Pending(wheel.On(10, 12), kBrush) == nullptr);
  const Schedule schedule = wheel.On(10, 21);
  CHECK(Pending(schedule, kTurn)->late_since == Day(4));
  CHECK(DueDay(schedule, kPat) == 10);
  CHECK(StateOf(schedule, kPat) == CareState::kDue);
  CHECK(DueDay(schedule, kBrush) == 10);
}

TEST_CASE("a new plan is counted from its own start events") {
  Wheel wheel{Always({Every(3, {kTurn})})};
  Plan salted = Always({Every(3, {kWipe})});
  salted.parts[0].start = StartKind::kSalted;
  wheel.Change(salted, 10);
  CHECK(wheel.On(10).standing.stage == nullptr);
  CHECK(wheel.On(10).lines.empty());
  wheel.Start(StartKind::kSalted, 2, 10, 13);
  CHECK(wheel.On(10, 14).standing.day == 8);
  CHECK(DueDay(wheel.On(10, 14), kWipe) == 10);
}

TEST_CASE("a branch answered gives the new stage's cares from the whole day of the answer") {
  Wheel wheel{
      WithBranch(PlanOf({StageOf(1, 9, {AWeek(1, {kBrush})})}), 9,
                 {{"on", {StageOf(10, {}, {AWeek(1, {kBrush})})}}, {"oil", {StageOf(10, {}, {Every(5, {kOil})})}}})};
  wheel.Do(8, {kBrush});
  wheel.Answer("oil", 20, 18);
  CHECK(Pending(wheel.On(20, 12), kOil) == nullptr);
  CHECK(RoundOf(wheel.On(20, 19)) == "oil due, brush retired");
  CHECK(DueDay(wheel.On(25), kOil) == 20);  // nothing is due before the answer
  wheel.Answer("on", 30);
  CHECK(DueDay(wheel.On(30), kBrush) == 30);
  CHECK(RoundOf(wheel.On(30)) == "brush due, oil retired");
}

TEST_CASE("an answer that changes nothing changes no count") {
  Wheel wheel{WithBranch(PlanOf({StageOf(1, 9, {AWeek(2, {kWash})})}), 9,
                         {{"on", {StageOf(10, {}, {AWeek(2, {kWash})})}}, {"young", {}}})};
  wheel.Do(8, {kWash});
  wheel.Answer("on", 13);
  CHECK(Pending(wheel.On(14), kWash)->late_since == Day(12));
  wheel.Answer("young", 14);
  CHECK(Pending(wheel.On(14), kWash)->late_since == Day(12));
  CHECK(wheel.On(14).questions.empty());
}

TEST_CASE("hold stops no care, gone ends all") {
  Wheel wheel{Always({Every(1, {kTurn}), AWeek(1, {kBrush})})};
  wheel.Do(4, {kTurn}, 9);
  wheel.History().gone = wheel.At(4, 10);
  CHECK(RoundOf(wheel.On(4, 9, 30)) == "turn done, brush late");
  CHECK(RoundOf(wheel.On(4, 11)) == "turn done");
  CHECK(wheel.On(5).lines.empty());
  CHECK(wheel.On(5).questions.empty());
}

TEST_CASE("what a stage left behind is named on the first day of the next, also where a plan waits for its event") {
  Wheel wheel{PlanOf({StageOf(1, std::nullopt, {Once(5, kSalt), Every(2, {kWash})})})};
  Plan later = PlanOf({StageOf(1, std::nullopt, {Every(2, {kTurn})})});
  later.parts[0].start = StartKind::kEnteredBox;
  wheel.Change(later, 20);
  CHECK(wheel.On(22).lines.empty());
  wheel.Start(StartKind::kEnteredBox, 24, 24);
  CHECK(RoundOf(wheel.On(24)).empty());
  CHECK(RoundOf(wheel.On(25)) == "turn due, salt not done, wash retired");
  CHECK(RoundOf(wheel.On(26)) == "turn due");
  CHECK(wheel.NotDoneOn(26).size() == 1);
}
