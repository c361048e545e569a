#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

namespace {

Wheel Wrapped(int entered = 0) {
  return Wheel{PlanOf({StageOf(1, 9, {}), StageOf(10, 14, {Once(12, kWrap)}), StageOf(15, {}, {})}), entered};
}

}  // namespace

TEST_CASE("a once care is due on its day and settled by the first doing or skip on a day that its stage holds") {
  Wheel wheel{PlanOf({StageOf(1, 9, {}), StageOf(10, 20, {Once(13, kWrap)}), StageOf(21, {}, {})})};
  const auto state = [&](int day) { return StateOf(wheel.On(day), kWrap); };
  CHECK(state(10) == CareState::kNotYet);
  CHECK(state(11) == CareState::kOpen);
  CHECK(state(13) == CareState::kDue);
  CHECK(state(15) == CareState::kDue);
  CHECK(state(16) == CareState::kLate);
  Wheel before = wheel;
  before.Do(9, {kWrap});  // the stage does not hold day 9
  CHECK(StateOf(before.On(13), kWrap) == CareState::kDue);
  Wheel early = wheel;
  early.Do(10, {kWrap});
  CHECK(RoundOf(early.On(10)) == "wrap done");
  CHECK(early.On(13).lines.empty());
  Wheel skipped = wheel;
  skipped.Skip(13, {kWrap});
  CHECK(RoundOf(skipped.On(13)) == "wrap skipped");
  CHECK(skipped.On(14).lines.empty());
  skipped.Do(13, {kWrap}, 20);
  CHECK(RoundOf(skipped.On(13, 21)) == "wrap done");
}

TEST_CASE("a once care left undone is named on the next stage's first day and kept for the wheel's page") {
  Wheel wheel = Wrapped();
  CHECK(RoundOf(wheel.On(14)) == "wrap due");
  CHECK(RoundOf(wheel.On(15)) == "wrap not done");
  CHECK(RoundOf(wheel.On(16)).empty());
  REQUIRE(wheel.NotDoneOn(40).size() == 1);
  CHECK(wheel.NotDoneOn(40)[0].due == Day(12));
  wheel.Do(14, {kWrap});
  CHECK(RoundOf(wheel.On(15)).empty());
  CHECK(wheel.NotDoneOn(40).empty());
}

TEST_CASE("in a stage without an end it stays late") {
  const Wheel wheel{Always({Once(5, kPierce)})};
  CHECK(StateOf(wheel.On(200), kPierce) == CareState::kLate);
  CHECK(wheel.NotDoneOn(200).empty());
}

TEST_CASE("a once care whose day and tolerance had passed before entry is unknown and not asked") {
  CHECK(Wrapped(15).NotDoneOn(15).empty());
  const Wheel unknown{Always({Once(5, kPierce)}), 8};
  CHECK(unknown.On(8).lines.empty());
  const Wheel known{Always({Once(5, kPierce)}), 7};
  CHECK(DueDay(known.On(7), kPierce) == 7);
  CHECK(StateOf(known.On(9), kPierce) == CareState::kDue);  // the tolerance counts from the due day
  CHECK(StateOf(known.On(10), kPierce) == CareState::kLate);
}

TEST_CASE("several once cares of a kind are settled in the order of their days, repeats of a day aside") {
  Wheel wheel{Always({Once(20, kPierce), Once(10, kPierce)})};
  wheel.Do(9, {kPierce}, 8);
  wheel.Do(9, {kPierce}, 9);
  CHECK(DueDay(wheel.On(10), kPierce) == 20);
  wheel.Do(11, {kPierce});
  CHECK(Pending(wheel.On(12), kPierce) == nullptr);
}

TEST_CASE("the same doing counts for a recurring care of the kind") {
  Wheel wheel{Always({Once(6, kPat), Every(5, {kPat})})};
  wheel.Do(1, {kPat});  // the first doing settles the once care too
  CHECK(wheel.On(1).lines.size() == 3);
  CHECK(DueDay(wheel.On(2), kPat) == 6);
  CHECK(wheel.On(2).lines.size() == 1);
}

TEST_CASE("a doing under an earlier version of the plan settles a once care of the new one") {
  Wheel wheel{Always({})};
  wheel.Do(6, {kPierce});
  wheel.Change(Always({Once(8, kPierce)}), 7);
  CHECK(wheel.On(7).lines.empty());
  Wheel undone{Always({})};
  undone.Change(Always({Once(8, kPierce)}), 7);
  CHECK(DueDay(undone.On(7, 13), kPierce) == 8);
}

TEST_CASE("a once care of both versions runs through, one that passed before the new version is not asked") {
  Wheel wheel{Always({Once(5, kPierce)})};
  wheel.Change(Always({Once(5, kPierce), Once(6, kOil), Once(18, kWrap)}), 20);
  const Schedule schedule = wheel.On(20, 13);
  CHECK(Pending(schedule, kPierce)->late_since == Day(5));
  CHECK(Pending(schedule, kOil) == nullptr);
  CHECK(DueDay(schedule, kWrap) == 20);
}

TEST_CASE("a once care that a new part overtakes before its day is not asked, and no care day brings it back") {
  Wheel wheel{WithPart(PlanOf({StageOf(1, 9, {Once(4, kSalt)})}), StartKind::kEnteredBox, 2, {StageOf(1, {}, {})})};
  wheel.Calendar().care_days = {2, 3};
  wheel.Start(StartKind::kEnteredBox, 3);
  CHECK(wheel.On(4).lines.empty());
  CHECK(wheel.NotDoneOn(4).empty());
}
