#include "rules/away/leaving.hpp"

#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

namespace {

Left Leaving(const Wheel& wheel, int today, int from, int back, int hour = 8) {
  return LeaveAlone(wheel.History(), wheel.Calendar(), wheel.At(today, hour), Day(from), Day(back));
}

std::string WindowText(const VisitWindow& window) {
  return std::to_string(NumberOf(window.opens)) + " to " + std::to_string(NumberOf(window.end));
}

}  // namespace

TEST_CASE("a helper turns, wipes and looks; everything else waits for the keeper") {
  for (const CareKind kind : {kTurn, kWipe, kLook}) CHECK(IsForHelper(kind));
  for (const CareKind kind :
       {kWash, kBrush, kPat, kRub, kSalt, kOil, kCoat, kPierce, kWrap, kMove, kWeigh, kWax, kBandage, kTaste}) {
    CHECK_FALSE(IsForHelper(kind));
  }
}

TEST_CASE("what can wait until the return is not done early") {
  Wheel wheel{Always({Every(7, {kBrush})})};
  wheel.Do(4, {kBrush});
  // On day 9 the brush is open (due 11 +- 2): back on day 13 it can wait, back on day 14 it cannot.
  CHECK(Leaving(wheel, 9, 10, 13).before.empty());
  CHECK(Leaving(wheel, 9, 10, 14).before.size() == 1);
}

TEST_CASE("before leaving the keeper does what is due and what would be late before the return") {
  Wheel wheel{Always({Every(4, {kTurn}), Every(7, {kBrush}), Every(20, {kOil})})};
  wheel.Do(4, {kTurn, kBrush, kOil});
  // On day 9 the turn is late by care's count (due 8, tolerance 1, so still due) and the brush is open (due 11 +- 2).
  const Left left = Leaving(wheel, 9, 10, 20);
  CHECK(left.last_day == Day(9));
  std::string done;
  for (const CareLine& line : left.before) done += std::string(ToText(line.kinds.front())) + " ";
  CHECK(done == "turn brush ");
}

TEST_CASE("the round before the last day is the plan's, without doing anything early") {
  Wheel wheel{Always({Every(4, {kTurn})})};
  wheel.Do(4, {kTurn});
  // Today is day 5; the keeper turns on day 8 as due, and on day 11, the last one, a day early.
  const Left left = Leaving(wheel, 5, 12, 20);
  REQUIRE(left.before.size() == 1);
  CHECK(left.before[0].due == Day(12));
  CHECK(NumberOf(left.wheel.acts.back().at < wheel.At(11, 20) ? Day(11) : Day(0)) == 11);
}

TEST_CASE("the first window of a helper follows from the last evening, the next from the visit") {
  Wheel wheel{Always({Every(4, {kTurn})})};
  wheel.Do(1, {kTurn});
  const Left left = Leaving(wheel, 5, 6, 20);
  HelperLane lane(left);
  CHECK(WindowText(lane.WindowAfter({})) == "8 to 10");
  CHECK(WindowText(lane.WindowAfter({Day(10)})) == "13 to 15");
  CHECK(lane.DoneOn({Day(10)}) == std::vector<CareKind>{kTurn});
}

TEST_CASE("of a wash with its turn the helper turns at the wash's windows") {
  Wheel wheel{Always({Every(3, {kWash}, {kTurn})})};
  wheel.Do(1, {kWash});
  const Left left = Leaving(wheel, 4, 5, 15);
  REQUIRE(left.before.size() == 1);
  HelperLane lane(left);
  CHECK(WindowText(lane.WindowAfter({})) == "6 to 8");
  CHECK(lane.AskedAfter({}) == std::vector<CareKind>{kWash, kTurn});
  CHECK(lane.DoneOn({Day(8)}) == std::vector<CareKind>{kTurn});
}

TEST_CASE("what a helper never does asks for no visit") {
  Wheel wheel{Always({Every(3, {kWash}), Every(7, {kBrush})})};
  wheel.Do(1, {kWash, kBrush});
  const Left left = Leaving(wheel, 4, 5, 15);
  HelperLane lane(left);
  CHECK(lane.WindowAfter({}).end > Day(1000));
  CHECK(WithoutVisit(lane, Day(5), Day(15)).misses == 0);
}

TEST_CASE("a morning and evening care is kept by one doing a day") {
  Wheel wheel{Always({TwiceADay(kTurn)})};
  wheel.Do(1, {kTurn}, 7);
  wheel.Do(1, {kTurn}, 19);
  const Left left = Leaving(wheel, 2, 3, 6);
  HelperLane lane(left);
  CHECK(WindowText(lane.WindowAfter({})) == "3 to 3");
  CHECK(WindowText(lane.WindowAfter({Day(3)})) == "4 to 4");
  std::vector<VisitLane*> lanes{&lane};
  CHECK(FewestVisits(lanes, Day(3), Day(6)).days.size() == 3);
}

TEST_CASE("a window that the next stage opens is seen, and one past its own stage is not asked") {
  Wheel wheel{PlanOf({StageOf(1, 9, {Every(6, {kTurn})}), StageOf(10, std::nullopt, {Every(2, {kTurn})})})};
  wheel.Do(1, {kTurn});
  wheel.Do(7, {kTurn});
  const Left left = Leaving(wheel, 8, 9, 30);
  HelperLane lane(left);
  // Due 13 by the old cadence; the new one asks two days after the last doing, from its own first day on.
  CHECK(lane.WindowAfter({}).end <= Day(11));
}

TEST_CASE("while nobody answers, drying goes on") {
  Wheel wheel{WithPart(PlanOf({StageOf(1, 3, {Every(1, {kTurn})})}), StartKind::kDry, 2,
                       {StageOf(1, std::nullopt, {Every(7, {kTurn})})})};
  wheel.Do(1, {kTurn});
  const Left left = Leaving(wheel, 2, 3, 10);
  HelperLane lane(left);
  std::vector<VisitLane*> lanes{&lane};
  CHECK(FewestVisits(lanes, Day(3), Day(10)).days.size() == 7);
}

TEST_CASE("an absence that is marked already does not make its own cares wait") {
  Wheel wheel{Always({Every(4, {kTurn})})};
  wheel.Do(1, {kTurn});
  wheel.Away(6, 14);
  const Left left = Leaving(wheel, 5, 6, 15);
  HelperLane lane(left);
  CHECK(WindowText(lane.WindowAfter({})) == "8 to 10");
}

TEST_CASE("one window missed harms no rind; more do by rind and place") {
  using enum RindClass;
  CHECK(HarmOf(kWashed, WheelState::kRipening, true, 1) == Harm::kLate);
  CHECK(HarmOf(kWashed, WheelState::kRipening, true, 2) == Harm::kSlime);
  CHECK(HarmOf(kWashed, WheelState::kRipening, false, 2) == Harm::kDries);
  CHECK(HarmOf(kFreshAndWhite, WheelState::kRindForming, false, 3) == Harm::kSticks);
  CHECK(HarmOf(kNaturalAndPressed, WheelState::kRindForming, true, 3) == Harm::kSlime);
  CHECK(HarmOf(kNaturalAndPressed, WheelState::kRindForming, false, 3) == Harm::kCracks);
  CHECK(HarmOf(kNaturalAndPressed, WheelState::kRipening, true, 3) == Harm::kLate);
  CHECK(HarmOf(kBlue, WheelState::kRipening, true, 2) == Harm::kSlime);
  CHECK(HarmOf(kWashed, WheelState::kHolding, true, 5) == Harm::kLate);
}
