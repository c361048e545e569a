#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

namespace {

Plan TwoParts() {
  return WithPart(PlanOf({StageOf(1, 3, {}), StageOf(4, 6, {})}), StartKind::kEnteredBox, 2,
                  {StageOf(1, 7, {}), StageOf(8, 21, {})});
}

Plan Branching() {
  return WithBranch(PlanOf({StageOf(1, 7, {}), StageOf(8, 21, {})}), 21,
                    {{"keep on", {StageOf(22, 60, {}), StageOf(61, 730, {})}}, {"eat young", {}}});
}

int FirstDayOfStage(const Wheel& wheel, int day) {
  const Standing standing = wheel.StandsOn(day);
  return standing.stage ? standing.stage->first_day : -1;
}

}  // namespace

TEST_CASE("before the first start event a wheel has a plan and no stage") {
  Wheel wheel{Branching()};
  wheel.History().starts.clear();
  const Standing standing = wheel.StandsOn(3);
  CHECK(standing.plan);
  CHECK(standing.stage == nullptr);
}

TEST_CASE("a stage holds both its ends, counted from the day of the event") {
  const Wheel wheel{Branching()};
  CHECK(wheel.StandsOn(1).day == 1);
  CHECK(FirstDayOfStage(wheel, 1) == 1);
  CHECK(FirstDayOfStage(wheel, 7) == 1);
  CHECK(FirstDayOfStage(wheel, 8) == 8);
  CHECK(FirstDayOfStage(wheel, 21) == 8);
  CHECK(FirstDayOfStage(wheel, 22) == 22);
}

TEST_CASE("on day 0 a wheel lies where the first stage of its part wants it") {
  Wheel wheel{TwoParts()};
  CHECK(FirstDayOfStage(wheel, 0) == 1);
  wheel.Start(StartKind::kEnteredBox, 5);
  const Standing standing = wheel.StandsOn(5);
  CHECK(standing.part == 1);
  CHECK(standing.day == 0);
  CHECK(standing.stage == &standing.plan->parts[1].stages[0]);
}

TEST_CASE("a part never advances by itself: its last stage goes on until the next part's event") {
  Wheel wheel{TwoParts()};
  CHECK(wheel.StandsOn(40).part == 0);
  CHECK(wheel.StandsOn(40).day == 40);
  CHECK(FirstDayOfStage(wheel, 40) == 4);
  CHECK(!wheel.StandsOn(40).past_plan);
  wheel.Start(StartKind::kEnteredBox, 38, 41);
  CHECK(wheel.StandsOn(40).part == 0);  // it was told on day 41
  CHECK(wheel.StandsOn(41).part == 1);
  CHECK(wheel.StandsOn(41).day == 3);
}

TEST_CASE("the first yes counts, until it is undone") {
  Wheel wheel{TwoParts()};
  const ActId first = wheel.Start(StartKind::kEnteredBox, 3, 5);
  wheel.Start(StartKind::kEnteredBox, 4, 6);
  CHECK(wheel.StandsOn(7).day == 4);
  wheel.Undo(first, 8);
  CHECK(wheel.StandsOn(7).day == 4);
  CHECK(wheel.StandsOn(9).day == 5);
}

TEST_CASE("a wheel that outlives its plan is past it from the day after the written end and keeps the last stage") {
  const Wheel wheel{Branching()};
  CHECK(!wheel.StandsOn(730).past_plan);
  CHECK(wheel.StandsOn(731).past_plan);
  CHECK(FirstDayOfStage(wheel, 731) == 61);
  CHECK(!Wheel{Always({})}.StandsOn(5000).past_plan);
}

TEST_CASE("a branch follows its default until it is answered, and an answer rules from its whole day") {
  Wheel wheel{Branching()};
  CHECK(wheel.StandsOn(30).branch_option == "keep on");
  wheel.Answer("eat young", 30, 20);
  CHECK(wheel.StandsOn(30, 12).branch_option == "keep on");  // not answered yet
  CHECK(wheel.StandsOn(30, 21).branch_option == "eat young");
  CHECK(FirstDayOfStage(wheel, 31) == 8);
  CHECK(wheel.StandsOn(31).day == 31);
  CHECK(wheel.StandsOn(31).past_plan);
  wheel.Answer("keep on", 65);
  CHECK(FirstDayOfStage(wheel, 64) == 8);
  CHECK(FirstDayOfStage(wheel, 65) == 61);
  CHECK(wheel.StandsOn(65).day == 65);
}

TEST_CASE("a new plan rules from the whole day of the change and counts from its own events") {
  Wheel wheel{Branching()};
  wheel.Change(WithPart(Always({}), StartKind::kSalted, 1, {StageOf(1, 5, {})}), 10);
  wheel.Start(StartKind::kSalted, 1, 1);
  CHECK(wheel.StandsOn(9).plan->parts.size() == 1);
  CHECK(wheel.StandsOn(10, 13).plan->parts.size() == 2);
  CHECK(wheel.StandsOn(10, 13).part == 1);
  CHECK(wheel.StandsOn(10, 13).day == 9);
  CHECK(wheel.StandsOn(10, 13).past_plan);
  CHECK(wheel.StandsOn(10, 13).age == 10);
}

TEST_CASE("a wheel that is gone stands as gone from its instant on") {
  Wheel wheel{Branching()};
  wheel.History().gone = wheel.At(9, 12);
  CHECK(!wheel.StandsOn(9, 11).gone);
  CHECK(wheel.StandsOn(9, 12).gone);
}
