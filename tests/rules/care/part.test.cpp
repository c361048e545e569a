#include <algorithm>

#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

namespace {

Plan DryThenBox() {
  return WithPart(PlanOf({StageOf(1, 3, {Every(1, {kTurn})})}), StartKind::kEnteredBox, 2,
                  {StageOf(1, 7, {Every(1, {kWash}, {kTurn}), Every(1, {kTurn})})});
}

}  // namespace

TEST_CASE("on day 0 of a part nothing is due, nor from the part before") {
  Wheel wheel{DryThenBox()};
  CHECK(RoundOf(wheel.On(0)).empty());
  CHECK(RoundOf(wheel.On(4)) == "turn late");
  wheel.Start(StartKind::kEnteredBox, 5);
  CHECK(RoundOf(wheel.On(5)).empty());
  CHECK(RoundOf(wheel.On(6)) == "wash+turn late");  // the turn runs through, late since day 1
  CHECK(wheel.On(6).lines[0].late_since == Day(1));
}

TEST_CASE("a due day that would fall on day 0 becomes day 1, and day 0 does not part adjoining stages") {
  Wheel wheel{DryThenBox()};
  wheel.Do(4, {kTurn});
  wheel.Start(StartKind::kEnteredBox, 5);
  CHECK(DueDay(wheel.On(5), kTurn) == 6);
  wheel.Do(6, {kWash});
  CHECK(DueDay(wheel.On(7), kTurn) == std::nullopt);  // on the round in the line of the wash
  CHECK(RoundOf(wheel.On(7)) == "wash+turn due");
}

TEST_CASE("a stage written from day 0 asks on day 0") {
  const Wheel wheel{PlanOf({StageOf(0, {}, {Every(1, {kTurn})})})};
  CHECK(RoundOf(wheel.On(0)) == "turn due");
}

TEST_CASE("an act of day 0 belongs to the stage before, at the first part to its first stage") {
  Wheel wheel{WithPart(PlanOf({StageOf(1, 3, {Every(1, {kWipe}, {kTurn}), Every(3, {kTurn})})}), StartKind::kEnteredBox,
                       2, {StageOf(1, 7, {Every(3, {kTurn})})})};
  wheel.Do(0, {kWipe});
  CHECK(RoundOf(wheel.On(0)) == "wipe+turn done");
  CHECK(DueDay(wheel.On(0), kTurn) == 3);
  wheel.Do(4, {kWipe});
  wheel.Start(StartKind::kEnteredBox, 4);
  CHECK(RoundOf(wheel.On(4)) == "wipe+turn done");
  CHECK(DueDay(wheel.On(5), kTurn) == 7);
}

TEST_CASE("a doing of day 0 is shown once, whether the new part asks for it in a line of another or by itself") {
  for (const Plan& plan : {WithPart(PlanOf({StageOf(1, 3, {Every(1, {kTurn})})}), StartKind::kEnteredBox, 2,
                                    {StageOf(1, 7, {Every(2, {kPat}, {kTurn}), Every(3, {kTurn})})}),
                           WithPart(PlanOf({StageOf(1, 3, {TwiceADay(kTurn)})}), StartKind::kEnteredBox, 2,
                                    {StageOf(1, 7, {Every(1, {kTurn})})}),
                           WithPart(PlanOf({StageOf(1, 3, {Every(1, {kTurn})})}), StartKind::kEnteredBox, 2,
                                    {StageOf(0, 7, {Every(1, {kTurn})})})}) {
    Wheel wheel{plan};
    wheel.Do(4, {kTurn});
    wheel.Start(StartKind::kEnteredBox, 4);
    const Schedule schedule = wheel.On(4);
    CHECK(std::ranges::count_if(schedule.lines, [](const CareLine& line) { return line.Settled(); }) <= 1);
  }
}

TEST_CASE("the next part's event is a question from the day the plan names until it is answered yes, and never late") {
  Wheel wheel{DryThenBox()};
  CHECK(wheel.On(1).questions.empty());
  const Schedule schedule = wheel.On(2);
  REQUIRE(schedule.questions.size() == 1);
  CHECK(schedule.questions[0].kind == Question::Kind::kStart);
  CHECK(schedule.questions[0].start == StartKind::kEnteredBox);
  CHECK(schedule.questions[0].text == "Begun?");
  CHECK(schedule.questions[0].asked_from == Day(2));
  CHECK(wheel.On(60).questions.size() == 1);
  wheel.Start(StartKind::kEnteredBox, 58, 60, 13);
  CHECK(wheel.On(60, 12).questions.size() == 1);
  CHECK(wheel.On(60, 14).questions.empty());
}

TEST_CASE("the answer may come before the question") {
  Wheel wheel{DryThenBox()};
  wheel.Start(StartKind::kEnteredBox, 1);
  CHECK(wheel.On(1).standing.part == 1);
  CHECK(wheel.On(2).questions.empty());
}

TEST_CASE("until the event the part before goes on, its last stage without an end") {
  Wheel wheel{DryThenBox()};
  CHECK(DaysDone(wheel, kTurn, 0, 12) == std::vector{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12});
}

TEST_CASE("the last stage of the last part keeps its cares after its end") {
  Wheel wheel{PlanOf({StageOf(1, 7, {Every(2, {kTurn})})})};
  wheel.Do(7, {kTurn});
  CHECK(DueDay(wheel.On(9), kTurn) == 9);
  CHECK(wheel.On(9).standing.past_plan);
}

TEST_CASE("a branch is a question from its day until it is answered, and its default goes on") {
  Wheel wheel{
      WithBranch(PlanOf({StageOf(1, 9, {})}), 9, {{"on", {StageOf(10, {}, {AWeek(1, {kBrush})})}}, {"young", {}}})};
  CHECK(wheel.On(8).questions.empty());
  const Schedule schedule = wheel.On(9);
  REQUIRE(schedule.questions.size() == 1);
  CHECK(schedule.questions[0].kind == Question::Kind::kBranch);
  CHECK(schedule.questions[0].options == std::vector<std::string>{"on", "young"});
  CHECK(DueDay(wheel.On(10), kBrush) == 10);
  CHECK(wheel.On(30).questions.size() == 1);
  wheel.Answer("on", 30, 12);
  CHECK(wheel.On(30).questions.empty());
  wheel.Undo(wheel.History().branches[0].id, 31);
  CHECK(wheel.On(32).questions.size() == 1);
}

TEST_CASE("a wheel may pass a part without its event: the latest part that has begun is in force") {
  Plan plan = WithPart(DryThenBox(), StartKind::kWrapped, 5, {StageOf(1, {}, {Every(4, {kLook})})});
  Wheel wheel{plan};
  wheel.Start(StartKind::kWrapped, 6);
  CHECK(wheel.On(7).standing.part == 2);
  CHECK(wheel.On(7).questions.empty());
  CHECK(DueDay(wheel.On(7), kLook) == 7);
}
