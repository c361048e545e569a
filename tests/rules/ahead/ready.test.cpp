#include "rules/ahead/ready.hpp"

#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

namespace {

Figure Figures(double low, double high) { return {low, high, "invented"}; }

// Dried for two to three days, then ripened: young from day 21 to 40, kept on from 60 to 200, counted from dry.
Plan TwoRoads() {
  Plan plan = WithPart(PlanOf({StageOf(1, std::nullopt, {})}), StartKind::kDry, 2, {StageOf(1, 21, {})});
  plan.parts.back().usual_days = Figures(2, 3);
  BranchOption keep;
  keep.name = "keep on";
  keep.stages = {StageOf(22, std::nullopt, {})};
  BranchOption young;
  young.name = "eat young";
  young.ready_days = Figures(21, 40);
  plan = WithBranch(std::move(plan), 21, {keep, young});
  plan.ready_days = Figures(60, 200);
  plan.ready_from = StartKind::kDry;
  return plan;
}

std::vector<ReadyWindow> Windows(const Wheel& wheel, int day) {
  return ReadyWindowsOf(wheel.History(), wheel.Calendar(), wheel.At(day, 12));
}

}  // namespace

TEST_CASE("a window is counted from the event that the plan names, as it was, or as it can come") {
  Wheel wheel{TwoRoads()};
  auto windows = Windows(wheel, 1);
  REQUIRE(windows.size() == 2);
  CHECK(windows[0] == ReadyWindow{Day(2 + 60), Day(2 + 200), false});
  CHECK(windows[1] == ReadyWindow{Day(2 + 21), Day(2 + 40), true});
  wheel.Start(StartKind::kDry, 5);
  windows = Windows(wheel, 6);
  REQUIRE(windows.size() == 2);
  CHECK(windows[0] == ReadyWindow{Day(65), Day(205), false});
  CHECK(windows[1] == ReadyWindow{Day(26), Day(45), true});
}

TEST_CASE("an event that is late in coming is reckoned from tomorrow") {
  CHECK(Windows(Wheel{TwoRoads()}, 9).front() == ReadyWindow{Day(10 + 60), Day(10 + 200), false});
}

TEST_CASE("once the branch is answered only its road counts") {
  Wheel wheel{TwoRoads()};
  wheel.Start(StartKind::kDry, 2);
  Wheel kept = wheel;
  wheel.Answer("eat young", 23);
  CHECK(Windows(wheel, 24) == std::vector<ReadyWindow>{{Day(23), Day(42), true}});
  kept.Answer("keep on", 23);
  CHECK(Windows(kept, 24) == std::vector<ReadyWindow>{{Day(62), Day(202), false}});
}

TEST_CASE("a plan without a window has none") {
  CHECK(Windows(Wheel{Always({})}, 3).empty());
  CHECK_FALSE(UsualReadyWindow(Always({}), Day(0)));
  CHECK_FALSE(MakeWindowFor(Always({}), Day(30), Day(0)));
}

TEST_CASE("from a wanted day back to the make: what is made on those days can be ready on it, and on no others") {
  Plan plan = Always({});
  plan.ready_days = Figures(21, 35);
  const auto make = MakeWindowFor(plan, Day(40), Day(0));
  REQUIRE(make);
  CHECK(make->from == Day(5));
  CHECK(make->to == Day(19));
  CHECK(make->possible);
  for (int made = 0; made < 40; ++made) {
    const auto ready = UsualReadyWindow(plan, Day(made));
    const bool can = ready->from <= Day(40) && Day(40) <= ready->to;
    CHECK(can == (make->from <= Day(made) && Day(made) <= make->to));
  }
  CHECK_FALSE(MakeWindowFor(plan, Day(20), Day(0))->possible);
  CHECK(MakeWindowFor(plan, Day(21), Day(0))->possible);
}

TEST_CASE("where it is too late for the long road the young one is offered") {
  const auto make = MakeWindowFor(TwoRoads(), Day(30), Day(0));
  REQUIRE(make);
  CHECK(make->young);
  CHECK(make->possible);
  CHECK(make->to == Day(30 - 21 - 2));
  CHECK_FALSE(MakeWindowFor(TwoRoads(), Day(100), Day(0))->young);
}
