#include "rules/care/known.hpp"

#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

TEST_CASE("one id counts once") {
  Wheel wheel{Always({AWeek(2, {kWash})})};
  wheel.Do(1, {kWash});
  wheel.Do(5, {kWash});
  wheel.History().acts.push_back(wheel.History().acts.back());
  CHECK(wheel.On(5).lines.size() == 2);
  CHECK(DueDay(wheel.On(5), kWash) == 8);
}

TEST_CASE("an undone act never was, and an undo undone leaves the act standing") {
  Wheel wheel{Always({Every(3, {kTurn})})};
  wheel.Do(1, {kTurn});
  const ActId doing = wheel.Do(4, {kTurn}, 9);
  const ActId undo = wheel.Undo(doing, 5, 8);
  CHECK(DueDay(wheel.On(4), kTurn) == 7);  // asked for an instant before the undo
  CHECK(DueDay(wheel.On(5), kTurn) == 4);
  const ActId undo_of_undo = wheel.Undo(undo, 6, 8);
  CHECK(DueDay(wheel.On(5), kTurn) == 4);
  CHECK(DueDay(wheel.On(6), kTurn) == 7);
  wheel.Undo(undo_of_undo, 6, 9);
  CHECK(DueDay(wheel.On(6), kTurn) == 4);
}

TEST_CASE("an act is undone while any undo of it holds") {
  Wheel wheel{Always({Every(3, {kTurn})})};
  const ActId doing = wheel.Do(1, {kTurn});
  const ActId one = wheel.Undo(doing, 2, 8);
  wheel.Undo(doing, 2, 9);
  wheel.Undo(one, 2, 10);
  CHECK(DueDay(wheel.On(2), kTurn) == 1);
}

TEST_CASE("an undo holds even if it arrives first") {
  Wheel wheel{Always({Every(3, {kTurn})})};
  const ActId doing = wheel.Do(1, {kTurn});
  wheel.Undo(doing, 1, 10);
  std::vector<CareAct> acts;
  std::swap(acts, wheel.History().acts);
  CHECK(DueDay(wheel.On(1), kTurn) == 1);
  std::swap(acts, wheel.History().acts);
  CHECK(DueDay(wheel.On(1), kTurn) == 1);
}

TEST_CASE("undos that name each other in a circle are survived") {
  Wheel wheel{Always({Every(3, {kTurn})})};
  const ActId doing = wheel.Do(1, {kTurn});
  const ActId one = wheel.Undo(doing, 2, 8);
  const ActId two = wheel.Undo(one, 2, 9);
  wheel.History().undos[0].of = two;
  CHECK(DueDay(wheel.On(3), kTurn) == 4);
}

TEST_CASE("acts after the asked instant are unknown") {
  Wheel wheel{Always({Every(3, {kTurn})})};
  wheel.Do(1, {kTurn}, 9);
  CHECK(DueDay(wheel.On(1, 8), kTurn) == 1);
  CHECK(DueDay(wheel.On(1, 9), kTurn) == 4);
}

TEST_CASE("an act typed in later for an earlier instant counts as of then, from when it was typed") {
  Wheel wheel{Always({Every(3, {kTurn})})};
  wheel.Do(1, {kTurn}, 9);
  wheel.History().acts.back().known_from = wheel.At(6, 20);
  CHECK(StateOf(wheel.On(5), kTurn) == CareState::kLate);
  CHECK(DueDay(wheel.On(6, 21), kTurn) == 4);
}

TEST_CASE("the order of the lines in a history does not matter") {
  Wheel wheel{Always({AWeek(3, {kWash}, {kTurn}), Every(4, {kTurn})})};
  for (const int day : {1, 3, 6, 6, 9, 10}) wheel.Do(day, {day % 2 ? kWash : kTurn});
  wheel.Skip(8, {kWash});
  wheel.Undo(wheel.History().acts[2].id, 7);
  const std::string round = RoundOf(wheel.On(11));
  const auto due = DueDay(wheel.On(11), kWash);
  std::ranges::reverse(wheel.History().acts);
  CHECK(RoundOf(wheel.On(11)) == round);
  CHECK(DueDay(wheel.On(11), kWash) == due);
}
