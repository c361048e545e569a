// Parts that begin with the first doing of the care they are named for.
#include <set>

#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

namespace {

// Bare to day 14, wrapped on day 12, then in its paper.
Plan Wrapped() {
  Care wrap = Once(12, kWrap);
  wrap.tolerance = 2;
  Plan plan = PlanOf({StageOf(0, 9, {Every(1, {kTurn})}), StageOf(10, 14, {wrap, Every(2, {kTurn})})});
  Part part;
  part.start = StartKind::kWrapped;
  part.stages = {StageOf(1, std::nullopt, {Every(7, {kTurn}), Every(3, {kLook})})};
  plan.parts.push_back(std::move(part));
  return plan;
}

}  // namespace

TEST_CASE("a part begins on the day on which its care is first done, and that day is its day 0") {
  Wheel wheel{Wrapped()};
  wheel.Do(13, {kWrap}, 9);
  CHECK(wheel.StandsOn(13, 8).part == 0);
  CHECK(wheel.StandsOn(13, 10).part == 1);
  CHECK(wheel.StandsOn(13, 10).day == 0);
  CHECK(wheel.StandsOn(16).day == 3);
  CHECK(wheel.On(16).standing.day == 3);
  CHECK(wheel.StandsOn(16).stage->first_day == 1);
  CHECK(!wheel.StandsOn(16).reckoned);
}

TEST_CASE("what began a part is shown as done on its day and never as left undone") {
  Wheel wheel{Wrapped()};
  wheel.Do(11, {kTurn});
  wheel.Do(12, {kWrap, kTurn});
  CHECK(RoundOf(wheel.On(12)) == "wrap done, turn done");
  CHECK(wheel.NotDoneOn(13).empty());
  CHECK(RoundOf(wheel.On(13)) == "look due");
  CHECK(DueDay(wheel.On(13), kTurn) == 19);
}

TEST_CASE("it is never asked as a question, and the part before goes on until it is done") {
  const Wheel wheel{Wrapped()};
  for (const int day : {9, 12, 14, 15, 40}) {
    INFO(day);
    CHECK(wheel.On(day).questions.empty());
    CHECK(wheel.StandsOn(day).part == 0);
  }
  CHECK(StateOf(wheel.On(20), kWrap) == CareState::kLate);
  CHECK(!wheel.StandsOn(40).past_plan);
}

TEST_CASE("undone, the part has not begun") {
  Wheel wheel{Wrapped()};
  const ActId wrap = wheel.Do(12, {kWrap});
  wheel.Undo(wrap, 13);
  CHECK(wheel.StandsOn(13, 9).part == 1);
  CHECK(wheel.StandsOn(13, 11).part == 0);
  CHECK(StateOf(wheel.On(13, 11), kWrap) == CareState::kDue);
  wheel.Do(14, {kWrap});
  CHECK(wheel.StandsOn(15).day == 1);
}

TEST_CASE("a second doing changes nothing, a skip begins nothing, an earlier one counts as of then") {
  Wheel wheel{Wrapped()};
  wheel.Skip(11, {kWrap});
  CHECK(wheel.StandsOn(11).part == 0);
  wheel.Do(13, {kWrap});
  wheel.Do(20, {kWrap});
  CHECK(wheel.StandsOn(21).day == 8);
  wheel.Do(12, {kWrap});
  CHECK(wheel.StandsOn(21).day == 9);
}

TEST_CASE("a keeper who names the day at entry is believed before the acts") {
  Wheel wheel{Wrapped(), 15};
  wheel.Start(StartKind::kWrapped, 10, 15);
  wheel.Do(15, {kWrap});
  CHECK(wheel.StandsOn(16).day == 6);
}

TEST_CASE("the same care in the part that it began is another care") {
  Plan plan = PlanOf({StageOf(0, 28, {Once(21, kPierce)})});
  Part part;
  part.start = StartKind::kPierced;
  part.stages = {StageOf(1, 21, {Once(7, kPierce)})};
  plan.parts.push_back(std::move(part));
  Wheel wheel{plan};
  wheel.Do(21, {kPierce});
  CHECK(DueDay(wheel.On(22), kPierce) == 28);
  wheel.Do(28, {kPierce});
  CHECK(!DueDay(wheel.On(29), kPierce));
  CHECK(wheel.StandsOn(30).day == 9);
}

TEST_CASE("the perfect keeper wraps on the day and goes on in the paper") {
  const Wheel wheel{Wrapped()};
  const auto ahead = LookAhead(wheel.History(), wheel.Calendar(), wheel.At(11, 12), 14);
  REQUIRE(!ahead.empty());
  std::string text;
  for (const Ahead& day : ahead) {
    text += std::to_string(NumberOf(day.day));
    for (const CareKind kind : day.kinds) text += " " + std::string{ToText(kind)};
    text += ";";
  }
  CHECK(text == "11 turn;12 wrap;13 look;16 look;18 turn;19 look;22 look;");
}

TEST_CASE("every wheel of the library comes to its end in the hands of the perfect keeper") {
  for (const Plan& plan : PlanLibrary()) {
    INFO(plan.id);
    Wheel wheel{plan};
    const auto ahead = LookAhead(wheel.History(), wheel.Calendar(), wheel.At(0, 9), 500);
    std::set<CareKind> asked, done;
    for (const Ahead& day : ahead) done.insert(day.kinds.begin(), day.kinds.end());
    for (const Part& part : plan.parts) {
      if (const auto kind = BegunBy(part)) CHECK(done.contains(*kind));
      for (const Stage& stage : part.stages) {
        for (const Care& care : stage.cares) asked.insert(care.kinds.begin(), care.kinds.end());
      }
    }
    CHECK(std::ranges::includes(done, asked));
  }
}

TEST_CASE("a part whose care was skipped is asked for once the plan asks for the care no more") {
  Wheel wheel{Wrapped()};
  wheel.Skip(12, {kWrap});
  CHECK(wheel.On(14).questions.empty());
  REQUIRE(wheel.On(15).questions.size() == 1);
  const Question question = wheel.On(15).questions.front();
  CHECK(question.kind == Question::Kind::kStart);
  CHECK(question.start == StartKind::kWrapped);
  CHECK(question.asked_from == Day(15));
  CHECK(question.text.empty());
  CHECK(wheel.On(40).questions.size() == 1);
  wheel.Start(StartKind::kWrapped, 20, 20);
  CHECK(wheel.On(21).questions.empty());
  CHECK(wheel.StandsOn(21).part == 1);
  CHECK(wheel.StandsOn(21).day == 1);
}

TEST_CASE("a wheel that came into the book after the day of its care is asked at once") {
  Wheel wheel{Wrapped(), 30};
  CHECK(wheel.On(30).questions.size() == 1);
  wheel.Do(31, {kWrap});
  CHECK(wheel.On(32).questions.empty());
  CHECK(wheel.StandsOn(32).part == 1);
}

TEST_CASE("a plan that was chosen after its care's day asks for it") {
  Wheel wheel{Always({Every(1, {kTurn})})};
  wheel.Change(Wrapped(), 20);
  CHECK(wheel.On(19).questions.empty());
  CHECK(wheel.On(21).questions.size() == 1);
}
