#include "rules/round/bring.hpp"
#include "rules/round/round.hpp"
#include "tests/catch.hpp"
#include "tests/rules/round/scene.hpp"

namespace rindwatch::rules {
namespace {

using namespace testing;

const auto kWhite = RoundPlan(RindClass::kFreshAndWhite, {Every(1, {kTurn})}, 0);
const auto kPressed = RoundPlan(RindClass::kNaturalAndPressed, {WithRecipe(Every(1, {kWash}, {kTurn}), 3)});
const auto kBrushed = RoundPlan(RindClass::kNaturalAndPressed, {Every(7, {kBrush}, {kTurn})});
const auto kOrange = RoundPlan(RindClass::kWashed, {WithRecipe(Every(1, {kWash}, {kTurn}), 4)}, 0);
const auto kVeined = RoundPlan(RindClass::kBlue, {Every(1, {kTurn})}, 1);

Round Of(std::vector<RoundGroup> groups, bool by_room = false) {
  return MakeRound(Day(0), {by_room, {}}, std::move(groups));
}

TEST_CASE("rind class comes first over all caves, then the caves in the keeper's order") {
  const Round round = Of({GroupOf(1, "", LifeOn(0, kVeined, -20), {1}), GroupOf(1, "", LifeOn(0, kOrange, -20), {2}),
                          GroupOf(2, "", LifeOn(0, kPressed, -20), {3}), GroupOf(2, "", LifeOn(0, kWhite, -20), {4}),
                          GroupOf(1, "", LifeOn(0, kPressed, -30), {5})});
  CHECK(TextOf(round) ==
        "=\n2 turn 4 due\n"
        "= gloves\n1 wash turn 5 due\n"
        // The next cave has younger ones: neither gloves nor cloth nor wash go to them from old ones.
        "= gloves cloth wash\n2 wash turn 3 due\n"
        "= gloves cloth wash\n1 wash turn 2 due\n"
        "= gloves\n1 turn 1 due\n");
}

TEST_CASE("a keeper who finishes one room before the next walks each by rind class") {
  const Round round = Of({GroupOf(1, "", LifeOn(0, kVeined, -20), {1}), GroupOf(2, "", LifeOn(0, kWhite, -20), {2}),
                          GroupOf(1, "", LifeOn(0, kWhite, -20), {3})},
                         true);
  CHECK(TextOf(round) == "=\n1 turn 3 due\n= gloves\n1 turn 1 due\n= gloves\n2 turn 2 due\n");
}

TEST_CASE("inside a cave the young come before the old, inside an age group the boards as one walks") {
  const Round round =
      Of({GroupOf(1, "A1", LifeOn(0, kBrushed, -200), {1}), GroupOf(1, "A2", LifeOn(0, kPressed, -10), {2}),
          GroupOf(1, "A3", LifeOn(0, kPressed, -3), {3}), GroupOf(1, "A4", LifeOn(0, kPressed, -40), {4})});
  CHECK(TextOf(round) ==
        "=\n1A2 wash turn 2 due\n1A3 wash turn 3 due\n"
        // Another age group, another mixing.
        "= cloth wash\n1A4 wash turn 4 due\n1A1 brush turn 1 due\n");
}

TEST_CASE("there are three age groups at most, young to old") {
  for (const RindClass rind :
       {RindClass::kFreshAndWhite, RindClass::kNaturalAndPressed, RindClass::kWashed, RindClass::kBlue}) {
    int last = 0;
    for (int age = 0; age < 1000; ++age) {
      const int group = AgeGroupOf(rind, age);
      CHECK(group >= last);
      CHECK(group <= 2);
      last = group;
    }
    CHECK(AgeGroupOf(rind, 0) == 0);
    CHECK(last == 2);
  }
}

TEST_CASE("wheels with a mark come last of the whole round, mite dust after all, with gloves of their own") {
  auto held = GroupOf(1, "A1", LifeOn(0, kWhite, -5), {1});
  held.held = true;
  auto dusty = GroupOf(1, "A2", LifeOn(0, kBrushed, -90), {2});
  dusty.mark = FaultKind::kMiteDust;
  auto slimy = GroupOf(2, "B1", LifeOn(0, kPressed, -10), {3});
  slimy.mark = FaultKind::kSlime;
  auto cracked = GroupOf(2, "B2", LifeOn(0, kBrushed, -90), {4});
  cracked.mark = FaultKind::kCrack;  // spreads nothing
  const Round round = Of({dusty, slimy, held, cracked, GroupOf(3, "", LifeOn(0, kVeined, -5), {5})});
  CHECK(TextOf(round) ==
        "=\n2B2 brush turn 4 due\n"
        "= gloves\n3 turn 5 due\n"
        "= gloves\n1A1 turn 1 due\n"
        "= gloves\n2B1 wash turn 3 due\n"
        "= gloves brush mask\n1A2 brush turn 2 due\n");
  CHECK_FALSE(round.sections[1].marked);
  CHECK(round.sections[2].marked);
}

TEST_CASE("wheels that are alike share a line, whichever life they live") {
  auto first = GroupOf(1, "A1", LifeOn(0, kPressed, -10), {1, 2});
  auto second = GroupOf(1, "A1", LifeOn(0, kPressed, -10), {3});
  second.lot = first.lot;
  CHECK(TextOf(Of({second, first})) == "=\n1A1 wash turn 1 2 3 due\n");
  second.lot = 99;
  CHECK(Of({first, second}).lines.size() == 2);
}

TEST_CASE("of wheels that share a line the gravest mark is named, and one that is held makes it a held one") {
  auto slimy = GroupOf(1, "A1", LifeOn(0, kPressed, -10), {1});
  slimy.mark = FaultKind::kSlime;
  auto held = GroupOf(1, "A1", LifeOn(0, kPressed, -10), {2});
  held.mark = FaultKind::kSlime;
  held.held = true;
  auto sticky = GroupOf(1, "A2", LifeOn(0, kPressed, -10), {3});
  sticky.mark = FaultKind::kSticks;
  auto sound = GroupOf(1, "A2", LifeOn(0, kPressed, -10), {4});
  held.lot = slimy.lot;
  sound.lot = sticky.lot;
  for (const auto& groups : {std::vector{slimy, held, sticky, sound}, std::vector{sound, sticky, held, slimy}}) {
    const Round round = Of(groups);
    REQUIRE(round.lines.size() == 2);
    CHECK(round.lines[0].line->mark == FaultKind::kSticks);
    CHECK_FALSE(round.lines[0].line->held);
    CHECK(round.lines[1].line->mark == FaultKind::kSlime);
    CHECK(round.lines[1].line->held);
  }
}

TEST_CASE("wheels that were handled a day apart share a line while both are due, and the nearer end speaks") {
  const Plan plan = Always({Every(8, {kTurn})});
  const auto done_on = [&](int day) {
    Wheel wheel(plan, 0);
    wheel.Do(day, {kTurn});
    return std::make_shared<const Schedule>(wheel.On(10, 8));
  };
  auto late = GroupOf(1, "A1", done_on(2), {1, 2});
  auto early = GroupOf(1, "A1", done_on(1), {3});
  early.lot = late.lot;
  for (const auto& groups : {std::vector{late, early}, std::vector{early, late}}) {
    const Round round = MakeRound(Day(10), {}, groups);
    REQUIRE(round.lines.size() == 1);
    CHECK(round.lines.front().line->wheels.size() == 3);
    CHECK(round.lines.front().line->care->due == Day(9));
    CHECK(round.lines.front().line->care->window_end == Day(11));
  }
}

TEST_CASE("a cloth is changed before younger wheels, whatever it is used for; gloves and wash stay") {
  const auto patted = RoundPlan(RindClass::kWashed, {Every(1, {kPat}, {kTurn})});
  const auto wiped = RoundPlan(RindClass::kWashed, {Every(1, {kWipe})});
  const auto turned = RoundPlan(RindClass::kWashed, {Every(1, {kTurn})});
  const std::vector groups{GroupOf(1, "", LifeOn(0, kOrange, -20), {1}), GroupOf(2, "", LifeOn(0, patted, -1), {2}),
                           GroupOf(2, "", LifeOn(0, kOrange, -30), {3}), GroupOf(2, "", LifeOn(0, wiped, -60), {4}),
                           GroupOf(3, "", LifeOn(0, turned, -2), {5}),   GroupOf(3, "", LifeOn(0, wiped, -20), {6})};
  const Round round = Of(groups);
  CHECK(TextOf(round) ==
        "=\n1 wash turn 1 due\n"
        // The washed of the second cave are of the age of those of the first: their wash is the same.
        "= cloth\n2 pat turn 2 due\n2 wash turn 3 due\n2 wipe 4 due\n3 turn 5 due\n"
        "= cloth\n3 wipe 6 due\n");
  CHECK(round.sections[1].seconds.count() == 0);
  const Bring bring = BringFor(round);
  CHECK(bring.cloths == 3);
  REQUIRE(bring.washes.size() == 1);
  CHECK(bring.washes.front().wheels == 2);
  CHECK(bring.washes.front().places.size() == 2);
}

TEST_CASE("what is asked no longer is touched by nobody: no gloves, no cloth, no wash for it") {
  Plan plan = PlanOf(
      {StageOf(1, 4, {WithRecipe(Every(1, {kWash}, {kTurn}), 3)}), StageOf(5, std::nullopt, {Every(1, {kBrush})})});
  plan.rind = RindClass::kNaturalAndPressed;
  Wheel retired(plan, 0);
  const auto first = std::make_shared<const Schedule>(retired.On(5, 8));
  const auto washed = LifeOn(5, kPressed, -40);
  const Round round = MakeRound(Day(5), {}, {GroupOf(1, "", washed, {1}), GroupOf(2, "", first, {2})});
  CHECK(TextOf(round).find("2 wash") != std::string::npos);
  CHECK(TextOf(round).find("gloves") == std::string::npos);
}

TEST_CASE("what is settled stands where it stood, and a change counts while something after it is left") {
  Wheel wheel(Always({Every(1, {kTurn})}));
  wheel.Do(1, {kTurn}, 7);
  auto plan = *wheel.History().plans.front().plan;
  plan.rind = RindClass::kFreshAndWhite;
  wheel.History().plans.front().plan = std::make_shared<const Plan>(plan);
  const auto done = std::make_shared<const Schedule>(wheel.On(1));
  const Round round =
      MakeRound(Day(1), {}, {GroupOf(1, "", done, {1}), GroupOf(1, "", LifeOn(1, kBrushed, -9), {2}, 2000)});
  CHECK(TextOf(round) == "=\n1 turn 1 done\n= gloves\n1 brush turn 2 due\n");
  CHECK(round.Left() == 1);
  CHECK(round.Minutes() == 2);  // 39 s and the change
  CHECK(MakeRound(Day(1), {}, {GroupOf(1, "", done, {1})}).Minutes() == 0);
}

TEST_CASE("a question stands in the section of its place and has no minutes") {
  Plan plan = WithPart(Always({Every(1, {kTurn})}), StartKind::kEnteredBox, 2, {StageOf(1, std::nullopt, {})});
  const auto asked = LifeOn(3, std::make_shared<const Plan>(plan), 0);
  const Round round = MakeRound(Day(3), {}, {GroupOf(2, "", asked, {1}), GroupOf(1, "", LifeOn(3, kWhite, 0), {2})});
  CHECK(TextOf(round) == "=\n1 turn 2 due\n= gloves\n2 turn 1 due\n? Begun? 1 in 1\n");
}

// Nothing is due of it but the question whether it has begun.
std::shared_ptr<const Schedule> AskedAlone(RindClass rind) {
  Plan plan =
      WithPart(PlanOf({StageOf(1, std::nullopt, {})}), StartKind::kEnteredBox, 2, {StageOf(1, std::nullopt, {})});
  plan.rind = rind;
  return LifeOn(3, std::make_shared<const Plan>(plan), 0);
}

TEST_CASE("nothing is touched for a question: it has its head, and the gloves stay") {
  const auto asked = AskedAlone(RindClass::kWashed);
  const Round round = MakeRound(Day(3), {}, {GroupOf(1, "", LifeOn(3, kWhite, 0), {1}), GroupOf(2, "", asked, {2})});
  REQUIRE(round.questions.size() == 1);
  REQUIRE(round.sections.size() == 2);
  CHECK(round.questions.front().section == 1);
  CHECK(round.sections[1].rind == RindClass::kWashed);
  CHECK(round.sections[1].change.empty());
  CHECK(round.sections[1].seconds.count() == 0);
  CHECK(round.Minutes() == MakeRound(Day(3), {}, {GroupOf(1, "", LifeOn(3, kWhite, 0), {1})}).Minutes());
}

TEST_CASE("where a line of the same rind comes after a question the change is named at their head, once") {
  const auto asked = AskedAlone(kBrushed->rind);
  const Round round = MakeRound(Day(3), {},
                                {GroupOf(1, "", LifeOn(3, kWhite, 0), {1}), GroupOf(2, "", asked, {2}),
                                 GroupOf(3, "", LifeOn(3, kBrushed, -9), {3})});
  REQUIRE(round.sections.size() == 2);
  CHECK(round.questions.front().section == 1);
  CHECK(round.sections[1].change == std::vector<Change>{Change::kGloves});
  CHECK(round.sections[1].seconds.count() > 0);
}

TEST_CASE("a question that comes first asks for no change at the first line") {
  const Round round = MakeRound(
      Day(3), {},
      {GroupOf(1, "", AskedAlone(RindClass::kFreshAndWhite), {1}), GroupOf(2, "", LifeOn(3, kBrushed, -9), {2})});
  for (const RoundSection& section : round.sections) CHECK(section.change.empty());
}

TEST_CASE("two are asked for by weight, sooner where it lies high") {
  auto heavy = GroupOf(1, "A1", LifeOn(0, kBrushed, -90), {1}, 30'000);
  CHECK(Of({heavy}).lines.front().line->two_people);
  auto middling = GroupOf(1, "A1", LifeOn(0, kBrushed, -90), {1}, 12'000);
  CHECK_FALSE(Of({middling}).lines.front().line->two_people);
  middling.place.high = true;
  CHECK(Of({middling}).lines.front().line->two_people);
}

}  // namespace
}  // namespace rindwatch::rules
