#include "rules/round/late.hpp"

#include "rules/round/looks.hpp"

#include "tests/catch.hpp"
#include "tests/rules/round/scene.hpp"

namespace rindwatch::rules {
namespace {

using namespace testing;

std::vector<LookFirst> LookAt(RindClass rind, Care care, int made, int day) {
  const auto life = LifeOn(day, RoundPlan(rind, {std::move(care)}), made, 0);
  return LookFirstAt(life->standing, life->lines.front(), Day(day));
}

TEST_CASE("what is due but not late says nothing to look at") {
  CHECK(LookAt(RindClass::kWashed, Every(2, {kWash}), 0, 1).empty());
}

TEST_CASE("after so long a rind says what to look at first") {
  using enum LookFirst;
  CHECK(LookAt(RindClass::kFreshAndWhite, Every(1, {kTurn}), 0, 5) == std::vector{kSlimy, kStuck});
  CHECK(LookAt(RindClass::kFreshAndWhite, Every(1, {kTurn}), 0, 9) == std::vector{kSlimy, kStuck, kSoft});
  CHECK(LookAt(RindClass::kNaturalAndPressed, Every(1, {kWash}), 0, 5) == std::vector{kStuck, kDry});
  CHECK(LookAt(RindClass::kNaturalAndPressed, Every(1, {kTurn}), 0, 5).empty());
  CHECK(LookAt(RindClass::kNaturalAndPressed, Every(1, {kTurn}), 0, 12) == std::vector{kStuck});
  CHECK(LookAt(RindClass::kNaturalAndPressed, Every(1, {kBrush}), -30, 5).empty());  // too young for mites
  CHECK(LookAt(RindClass::kWashed, Every(1, {kWash}), 0, 5) == std::vector{kSlimy, kStuck});
  CHECK(LookAt(RindClass::kBlue, Every(1, {kTurn}), 0, 9) == std::vector{kSlimy, kSoft});
}

TEST_CASE("what nobody came to is no fault, but says what to look at first all the same") {
  Wheel wheel(Always({Every(1, {kWash})}));
  wheel.Do(1, {kWash});
  wheel.Away(2, 8);
  Plan washed = *wheel.History().plans.front().plan;
  washed.rind = RindClass::kWashed;
  wheel.History().plans.front().plan = std::make_shared<const Plan>(washed);
  const Schedule back = wheel.On(9);
  REQUIRE(back.lines.front().away);
  CHECK(back.lines.front().state == CareState::kDue);
  CHECK(LookFirstAt(back.standing, back.lines.front(), Day(9)) ==
        std::vector{LookFirst::kSlimy, LookFirst::kStuck, LookFirst::kDry});
}

Plan DailyThenTwiceAWeek() {
  return PlanOf({StageOf(1, 7, {Every(1, {kWash}, {kTurn})}), StageOf(8, 21, {AWeek(2, {kWash}, {kTurn})}),
                 StageOf(22, std::nullopt, {AWeek(2, {kWash}, {kTurn})})});
}

std::optional<NewCadence> SaidOn(const Wheel& wheel, int day) {
  const Schedule schedule = wheel.On(day);
  return schedule.lines.empty() ? std::nullopt : NewCadenceAt(schedule.standing, schedule.lines.front());
}

TEST_CASE("a new cadence is said on the last day of the old one, and on the first of its own if something is asked") {
  Wheel wheel(DailyThenTwiceAWeek());
  for (int day = 1; day <= 6; ++day) {
    CHECK_FALSE(SaidOn(wheel, day));
    wheel.Do(day, {kWash});
  }
  REQUIRE(SaidOn(wheel, 7));
  CHECK(SaidOn(wheel, 7)->from_tomorrow);
  CHECK(SaidOn(wheel, 7)->cadence == Cadence{TimesAWeek{2}});
  // Left undone on day 7 it is due on day 8 by the last doing of day 6.
  const Schedule next = wheel.On(8);
  for (const CareLine& line : next.lines) {
    if (line.OnRound()) CHECK_FALSE(NewCadenceAt(next.standing, line)->from_tomorrow);
  }
  CHECK_FALSE(SaidOn(wheel, 21));  // the same cadence goes on
}

TEST_CASE("what to look at first is said once a place, at its first line that is open") {
  const Care turn = Every(1, {kTurn}), wrap = Every(2, {CareKind::kWrap});
  const Plan plan = *RoundPlan(RindClass::kFreshAndWhite, {turn, wrap}, 0);
  Wheel wheel(plan, 0);
  wheel.Do(1, {kTurn, CareKind::kWrap});
  const auto late = std::make_shared<const Schedule>(wheel.On(12, 8));
  const Round round = MakeRound(Day(12), {}, {GroupOf(1, "", late, {1}), GroupOf(2, "", late, {2})});
  REQUIRE(round.lines.size() == 4);
  REQUIRE_FALSE(round.lines[0].line->look_first.empty());
  CHECK(round.lines[1].line->look_first == round.lines[0].line->look_first);
  const auto looks = LooksToSay(round);
  REQUIRE(looks.size() == 4);
  CHECK(looks[0] == round.lines[0].line->look_first);
  CHECK(looks[1].empty());
  CHECK(looks[2] == looks[0]);
  CHECK(looks[3].empty());
}

}  // namespace
}  // namespace rindwatch::rules
