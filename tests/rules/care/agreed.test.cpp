#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

TEST_CASE("a care agreed at a fault is asked once for its date with a tolerance of one day") {
  Wheel wheel{Always({Every(9, {kTurn})})};
  wheel.Do(1, {kTurn});
  wheel.Agree(kWipe, 5, 2);
  const Schedule schedule = wheel.On(5);
  const CareLine* line = Pending(schedule, kWipe);
  REQUIRE(line);
  CHECK(line->agreed);
  CHECK(line->care == nullptr);
  CHECK(line->state == CareState::kDue);
  CHECK(StateOf(wheel.On(3), kWipe) == CareState::kNotYet);
  CHECK(StateOf(wheel.On(4), kWipe) == CareState::kOpen);
  CHECK(StateOf(wheel.On(6), kWipe) == CareState::kDue);
  CHECK(StateOf(wheel.On(30), kWipe) == CareState::kLate);
  CHECK(Pending(wheel.On(2, 9), kWipe) == nullptr);  // agreed at 10:00
  wheel.Do(6, {kWipe});
  CHECK(RoundOf(wheel.On(6)) == "wipe done");
  CHECK(Pending(wheel.On(7), kWipe) == nullptr);
}

TEST_CASE("a skip settles an agreed care, an undo takes it back") {
  Wheel wheel{Always({})};
  const ActId agreed = wheel.Agree(kWipe, 5, 2);
  Wheel skipped = wheel;
  skipped.Skip(5, {kWipe});
  CHECK(RoundOf(skipped.On(5)) == "wipe skipped");
  CHECK(skipped.On(6).lines.empty());
  wheel.Undo(agreed, 3);
  CHECK(wheel.On(5).lines.empty());
}

TEST_CASE("the pending care that an agreed one stands for is not asked until then, and the doing counts for both") {
  Wheel wheel{Always({Every(2, {kWash}, {kTurn})})};
  wheel.Do(1, {kWash});
  wheel.Agree(kWipe, 6, 2, kWash);
  CHECK(RoundOf(wheel.On(3)).empty());
  CHECK(RoundOf(wheel.On(5)).empty());
  CHECK(RoundOf(wheel.On(6)) == "wipe due");
  wheel.Do(6, {kWipe});
  CHECK(DueDay(wheel.On(6), kWash) == 8);
  CHECK(RoundOf(wheel.On(6)) == "wash+turn done, wipe done");
}

TEST_CASE("an agreed care of the care's own kind brings what that care brings") {
  Wheel wheel{Always({Every(2, {kWash}, {kTurn}), Every(3, {kTurn})})};
  wheel.Do(1, {kWash});
  wheel.Agree(kWash, 5, 2, kWash);
  CHECK(RoundOf(wheel.On(4)) == "turn due");
  CHECK(RoundOf(wheel.On(5)) == "wash+turn due");
  wheel.Do(5, {kWash});
  CHECK(DueDay(wheel.On(5), kWash) == 7);
}

TEST_CASE("when an agreed care is skipped the care that it stood for is asked again") {
  Wheel wheel{Always({Every(2, {kWash})})};
  wheel.Do(1, {kWash});
  wheel.Agree(kWipe, 6, 2, kWash);
  wheel.Skip(6, {kWipe});
  CHECK(RoundOf(wheel.On(6)) == "wash due, wipe skipped");
}

TEST_CASE("a morning and evening care waits for an agreed one that stands for it") {
  Wheel wheel{Always({TwiceADay(kTurn)})};
  wheel.Do(1, {kTurn}, 7);
  wheel.Agree(kLook, 4, 1, kTurn, 8);
  CHECK(RoundOf(wheel.On(1, 15)) == "turn done");
  CHECK(RoundOf(wheel.On(3)).empty());
  CHECK(RoundOf(wheel.On(4)) == "look due");
  wheel.Do(4, {kLook}, 7);
  CHECK(StateOf(wheel.On(4, 14), kTurn) == CareState::kDue);
}
