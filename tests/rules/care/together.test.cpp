#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

TEST_CASE("a doing of the wash is also a doing of the turn, a bare turn is no wash") {
  Wheel wheel{Always({Every(4, {kWash}, {kTurn}), Every(2, {kTurn})})};
  wheel.Do(1, {kWash});
  CHECK(DueDay(wheel.On(1), kTurn) == 3);
  wheel.Do(3, {kTurn});
  CHECK(DueDay(wheel.On(3), kWash) == 5);
  CHECK(DueDay(wheel.On(3), kTurn) == 5);
}

TEST_CASE("while the wash is on the round both are one line, with the worse state and the earlier due day") {
  Wheel wheel{Always({Every(4, {kWash}, {kTurn}), Every(2, {kTurn})})};
  wheel.Do(1, {kWash});
  CHECK(RoundOf(wheel.On(3)) == "turn due");  // the wash is due on day 5
  const Schedule schedule = wheel.On(5);      // the turn is late since day 3
  REQUIRE(schedule.lines.size() == 1);
  CHECK(schedule.lines[0].kinds == std::vector{kWash, kTurn});
  CHECK(schedule.lines[0].state == CareState::kLate);
  CHECK(schedule.lines[0].due == Day(3));
  CHECK(schedule.lines[0].late_since == Day(3));
  CHECK(schedule.lines[0].care->kinds == std::vector{kWash});
}

TEST_CASE("the line stands where the wash stands, and a doing settles both in one line") {
  Wheel wheel{Always({Every(2, {kTurn}), Every(3, {kPat}), Every(4, {kWash}, {kTurn})})};
  CHECK(RoundOf(wheel.On(1)) == "pat due, wash+turn due");
  wheel.Do(1, {kWash});
  CHECK(RoundOf(wheel.On(1)) == "pat due, wash+turn done");
}

TEST_CASE("done in part with a reason it is a doing of the turn and a skip of the wash") {
  Wheel wheel{Always({Every(4, {kWash}, {kTurn}), Every(2, {kTurn})})};
  wheel.Do(1, {kWash});
  wheel.Act(wheel.At(5, 9), {kTurn}, {kWash});
  const Schedule schedule = wheel.On(5);
  CHECK(RoundOf(schedule) == "wash+turn skipped");
  CHECK(schedule.lines[0].done_kinds == std::vector{kTurn});
  CHECK(schedule.lines[0].skipped_kinds == std::vector{kWash});
  CHECK(schedule.lines[0].reason == "rind wet");
  CHECK(DueDay(schedule, kWash) == 9);
  CHECK(DueDay(schedule, kTurn) == 7);
}

TEST_CASE("done in part without a reason the wash stays on the round, its turn shown as done") {
  for (const bool own_cadence : {true, false}) {
    Wheel wheel{own_cadence ? Always({Every(4, {kWash}, {kTurn}), Every(2, {kTurn})})
                            : Always({Every(4, {kWash}, {kTurn})})};
    wheel.Do(1, {kWash});
    const ActId turn = wheel.Do(5, {kTurn});
    const Schedule schedule = wheel.On(5);
    CHECK(RoundOf(schedule) == "wash+turn due");
    REQUIRE(schedule.lines.size() == 1);
    CHECK(schedule.lines[0].done_kinds == std::vector{kTurn});
    CHECK(schedule.lines[0].settled_by == turn);
    wheel.Do(5, {kWash}, 11);
    CHECK(RoundOf(wheel.On(5)) == "wash+turn done, turn done");  // two acts, each can be undone
    CHECK(DueDay(wheel.On(5), kWash) == 9);
  }
}

TEST_CASE("a turn without a cadence of its own comes only with the wash") {
  for (const bool listed : {true, false}) {
    Wheel wheel{listed ? Always({Every(4, {kWash}, {kTurn}), OnlyBrought(kTurn)})
                       : Always({Every(4, {kWash}, {kTurn})})};
    wheel.Do(1, {kWash});
    CHECK(RoundOf(wheel.On(1)) == "wash+turn done");
    CHECK(RoundOf(wheel.On(4)).empty());
    CHECK(RoundOf(wheel.On(5)) == "wash+turn due");
    CHECK(wheel.On(4).lines.size() == 1);
    CHECK(wheel.On(4).lines[0].kinds == std::vector{kWash, kTurn});
    wheel.Do(3, {kTurn});
    CHECK(RoundOf(wheel.On(3)) == "turn done");
  }
}

TEST_CASE("where two lines would bring the same care, the first in the plan's order brings it") {
  const Wheel wheel{Always({Every(4, {kWash}, {kTurn}), Every(4, {kBrush}, {kTurn})})};
  CHECK(RoundOf(wheel.On(1)) == "wash+turn due, brush due");
}

TEST_CASE("what is brought brings nothing") {
  Wheel wheel{Always({Every(4, {kWash}, {kTurn}), Every(4, {kTurn}, {kLook}), Every(4, {kLook})})};
  wheel.Do(1, {kWash});
  CHECK(DueDay(wheel.On(1), kLook) == 1);
}

TEST_CASE("skipping a wash does not skip a turn that has its own cadence") {
  Wheel wheel{Always({Every(4, {kWash}, {kTurn}), Every(2, {kTurn})})};
  wheel.Skip(1, {kWash});
  CHECK(RoundOf(wheel.On(1)) == "wash skipped, turn due");
}

TEST_CASE("washed but not turned, with a reason, is no doing of the turn") {
  Wheel wheel{Always({Every(4, {kWash}, {kTurn}), Every(2, {kTurn})})};
  wheel.Act(wheel.At(1, 9), {kWash}, {kTurn});
  const Schedule schedule = wheel.On(1);
  CHECK(RoundOf(schedule) == "wash+turn done");
  CHECK(schedule.lines[0].skipped_kinds == std::vector{kTurn});
  CHECK(DueDay(schedule, kTurn) == 3);
}

TEST_CASE("a morning and evening turn joins the wash in the morning and comes alone in the evening") {
  Wheel wheel{Always({Every(4, {kWash}, {kTurn}), TwiceADay(kTurn)})};
  CHECK(RoundOf(wheel.On(1, 7)) == "wash+turn due");
  wheel.Do(1, {kTurn}, 7);
  CHECK(wheel.On(1, 8).lines[0].done_kinds == std::vector{kTurn});
  CHECK(RoundOf(wheel.On(1, 14)) == "wash+turn due, turn done");  // the evening's turn is due as well
  CHECK(wheel.On(1, 14).lines[0].done_kinds.empty());
  wheel.Do(1, {kWash}, 8);
  CHECK(RoundOf(wheel.On(1, 14)) == "wash+turn done, turn done, turn due");
}

TEST_CASE("brought kinds go by the stage of the day of the doing") {
  Wheel wheel{PlanOf({StageOf(1, 4, {Every(4, {kWash}), Every(9, {kTurn})}),
                      StageOf(5, {}, {Every(4, {kWash}, {kTurn}), Every(9, {kTurn})})})};
  wheel.Do(4, {kWash});
  CHECK(DueDay(wheel.On(4), kTurn) == 1);
  wheel.Do(5, {kWash});
  CHECK(DueDay(wheel.On(5), kTurn) == 14);
}

TEST_CASE("lines of a wheel stand in the plan's order, and lateness changes no order") {
  Wheel wheel{Always({Every(1, {kTurn}), Every(4, {kPat}), Every(1, {kWipe})})};
  wheel.Do(4, {kTurn});
  CHECK(RoundOf(wheel.On(5)) == "turn due, pat late, wipe late");
}

TEST_CASE("alternate kinds are one care with one clock: asked is the kind after the one last done") {
  Wheel wheel{Always({Every(2, {kSalt, kBrush})})};
  CHECK(DueDay(wheel.On(1), kSalt) == 1);
  wheel.Do(1, {kSalt});
  CHECK(DueDay(wheel.On(1), kBrush) == 3);
  wheel.Skip(3, {kBrush});
  CHECK(DueDay(wheel.On(3), kBrush) == 5);  // a skip does not change the kind
  wheel.Do(5, {kBrush});
  CHECK(DueDay(wheel.On(5), kSalt) == 7);
  wheel.Do(6, {kBrush});  // the keeper brushed again
  CHECK(DueDay(wheel.On(6), kSalt) == 8);
}

TEST_CASE("of alternate kinds each is a repeat by itself") {
  Wheel wheel{Always({AWeek(2, {kSalt, kBrush})})};
  wheel.Do(1, {kSalt}, 8);
  wheel.Do(1, {kBrush}, 9);
  CHECK(DueDay(wheel.On(1), kSalt) == 4);  // two doings: the second gap
  wheel.Do(1, {kSalt}, 10);
  CHECK(DueDay(wheel.On(1), kSalt) == 4);
}

TEST_CASE("what a second wash brings is shown, though the same act skips the kind that alternates with it") {
  Wheel wheel{Always({Every(2, {kBrush, kWash}, {kTurn}), Every(3, {kTurn})})};
  wheel.Act(wheel.At(1, 9), {kWash}, {kTurn});
  wheel.Act(wheel.At(1, 15), {kWash}, {kBrush});
  CHECK(RoundOf(wheel.On(1, 16)) == "wash+turn done, brush skipped, turn done");
}
