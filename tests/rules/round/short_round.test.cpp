#include "rules/round/short_round.hpp"

#include <map>

#include "tests/catch.hpp"
#include "tests/rules/round/scene.hpp"

namespace rindwatch::rules {
namespace {

using namespace testing;

const auto kYoung = RoundPlan(RindClass::kNaturalAndPressed, {Every(1, {kWash}, {kTurn})}, 2, WheelState::kRindForming);
const auto kMiddle = RoundPlan(RindClass::kNaturalAndPressed, {Every(3, {kTurn})});
const auto kAged = RoundPlan(RindClass::kNaturalAndPressed, {Every(7, {kBrush}, {kTurn})});
const auto kWhite = RoundPlan(RindClass::kFreshAndWhite, {Every(1, {kTurn}, {kPat})}, 0);

std::vector<WheelId> Ids(WheelId first, int count) {
  std::vector<WheelId> ids;
  for (int i = 0; i < count; ++i) ids.push_back(first + i);
  return ids;
}

int Nothing(Date) { return 0; }

Round Morning() {
  return MakeRound(
      Day(0), {},
      {GroupOf(1, "", LifeOn(0, kWhite, -9), Ids(1, 6), 250), GroupOf(2, "A1", LifeOn(0, kYoung, -8), Ids(10, 9)),
       GroupOf(2, "A2", LifeOn(0, kMiddle, -28), Ids(20, 14)), GroupOf(2, "B1", LifeOn(0, kAged, -77), Ids(40, 11))});
}

TEST_CASE("time for all keeps all, changes counted in") {
  const Round round = Morning();
  const ShortRound all = Shorten(round, 60, Nothing);
  CHECK(all.kept == std::vector<std::size_t>{0, 1, 2, 3});
  CHECK(all.moved.empty());
  CHECK(all.used == round.Minutes());
}

TEST_CASE("what leaves its window today is kept, what can wait moves inside its window") {
  const ShortRound some = Shorten(Morning(), 8, Nothing);
  CHECK(some.kept == std::vector<std::size_t>{0, 1});
  CHECK(some.used == 8);  // 1, 6 and the change
  REQUIRE(some.moved.size() == 2);
  CHECK(NumberOf(some.moved[0].to) == 1);
  CHECK(NumberOf(some.moved[1].to) == 2);  // the day before has what moved first
  for (const ShortRound::Moved& moved : some.moved) CHECK_FALSE(moved.leaves_window);
}

TEST_CASE("what is moved goes to the day of its window that has the least to do") {
  const std::map<Date, int> busy{{Day(1), 20}, {Day(2), 0}};
  const ShortRound some = Shorten(Morning(), 8, [&](Date day) { return busy.contains(day) ? busy.at(day) : 5; });
  REQUIRE(some.moved.size() == 2);
  CHECK(some.moved[0].to == Day(1));  // every 3 days: a day either way
  CHECK(some.moved[1].to == Day(2));  // weekly: two
}

TEST_CASE("of what cannot wait the rind that would miss most comes first, and it is said what leaves its window") {
  const Round round = MakeRound(
      Day(0), {},
      {GroupOf(1, "", LifeOn(0, RoundPlan(RindClass::kNaturalAndPressed, {Every(1, {kTurn})}), -90, -2), Ids(1, 40)),
       GroupOf(2, "", LifeOn(0, kYoung, -8, -2), Ids(100, 7))});
  const ShortRound some = Shorten(round, 5, Nothing);
  REQUIRE(some.kept.size() == 1);
  CHECK(round.lines[some.kept.front()].line->place.cave == 2);
  REQUIRE(some.moved.size() == 1);
  CHECK(some.moved.front().to == Day(1));
  CHECK(some.moved.front().leaves_window);
}

TEST_CASE("a short round is never longer than asked for, and every line is kept or moved") {
  const Round round = Morning();
  for (int minutes = 0; minutes <= 30; ++minutes) {
    const ShortRound some = Shorten(round, minutes, Nothing);
    CHECK(some.used <= minutes);
    CHECK(some.kept.size() + some.moved.size() == round.Left());
  }
}

}  // namespace
}  // namespace rindwatch::rules
