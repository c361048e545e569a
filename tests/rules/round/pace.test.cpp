#include "rules/round/pace.hpp"

#include "tests/catch.hpp"
#include "tests/rules/care/chance.hpp"

namespace rindwatch::rules {
namespace {

using namespace testing;
using std::chrono::seconds;

Tick TickAt(int day, int second, std::vector<CareKind> kinds = {kWash, kTurn}, int count = 10, double grams = 2000) {
  Tick tick;
  tick.at = Instant{(Day(day) + hours{7}).time_since_epoch()} + seconds{second};
  tick.day = Day(day);
  tick.kinds = std::move(kinds);
  tick.count = count;
  tick.weight = {grams};
  return tick;
}

// A round each day: a first tick, and one after so many seconds.
std::vector<Tick> Rounds(int days_long, int after) {
  std::vector<Tick> ticks;
  for (int day = 0; day < days_long; ++day) {
    ticks.push_back(TickAt(day, 0, {kTurn}));
    ticks.push_back(TickAt(day, after));
  }
  return ticks;
}

TEST_CASE("usual figures: straight between the known weights, level beyond") {
  CHECK(UsualSeconds(kTurn, Grams{250}) == 3);
  CHECK(UsualSeconds(kTurn, Grams{100}) == 3);
  CHECK(UsualSeconds(kTurn, Grams{2000}) == 7);
  CHECK(UsualSeconds(kTurn, Grams{3500}) == Approx(8.5));
  CHECK(UsualSeconds(kTurn, Grams{40'000}) == 70);
  CHECK(UsualSeconds({kWash, kTurn}, Grams{2000}) == 37);
  for (int kind = 0; kind <= static_cast<int>(kLastCareKind); ++kind) {
    CHECK(UsualSeconds(static_cast<CareKind>(kind), Grams{2000}) > 0);
  }
}

TEST_CASE("the keeper's own pace counts once five lines of a kind and weight were signed") {
  const std::vector<CareKind> kinds{kWash, kTurn};
  CHECK_FALSE(Pace::From(Rounds(4, 250)).Learned(kinds, Grams{2000}));
  const Pace pace = Pace::From(Rounds(5, 250));
  CHECK(pace.Learned(kinds, Grams{2000}));
  CHECK(pace.SecondsOf(kinds, Grams{2000}) == 25);
  CHECK(pace.SecondsOf(kinds, Grams{8000}) == UsualSeconds(kinds, Grams{8000}));
  CHECK(pace.SecondsOf({kTurn}, Grams{2000}) == 7);
}

TEST_CASE("pauses, lines signed in one go, other keepers and other days teach nothing") {
  const std::vector<CareKind> kinds{kWash, kTurn};
  CHECK(Pace::From(Rounds(20, 3600)) == Pace{});
  CHECK(Pace::From(Rounds(20, 3)) == Pace{});
  std::vector<Tick> ticks = Rounds(20, 250);
  for (std::size_t i = 1; i < ticks.size(); i += 2) ticks[i].keeper = "TR";
  CHECK(Pace::From(ticks) == Pace{});
}

TEST_CASE("half of the rounds with a telephone call, and the median is the same") {
  std::vector<Tick> ticks = Rounds(13, 250);
  for (std::size_t i = 1; i < ticks.size(); i += 4) ticks[i].at += std::chrono::hours{1};
  CHECK(Pace::From(ticks).SecondsOf({kWash, kTurn}, Grams{2000}) == Approx(25));
}

TEST_CASE("a change of gloves between two lines is not the wheels' time") {
  std::vector<Tick> ticks = Rounds(9, 310);
  for (std::size_t i = 0; i < ticks.size(); i += 2) ticks[i].rind = RindClass::kFreshAndWhite;
  CHECK(Pace::From(ticks).SecondsOf({kWash, kTurn}, Grams{2000}) == 25);
}

TEST_CASE("ticks in any order teach the same") {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    Chance chance(seed);
    std::vector<Tick> ticks;
    for (int i = 0; i < 200; ++i) {
      ticks.push_back(TickAt(chance.Between(0, 10), chance.Between(0, 4000),
                             chance.OneIn(2) ? std::vector{kTurn} : std::vector{kWash, kTurn}, chance.Between(1, 20),
                             chance.Between(1, 9) * 1000));
      if (chance.OneIn(3)) ticks.back().keeper = "IH";
    }
    const Pace pace = Pace::From(ticks);
    chance.Shuffle(ticks);
    CHECK(Pace::From(ticks) == pace);
  }
}

TEST_CASE("minutes are summed as they are shown: lines in whole minutes, short lines and changes together") {
  MinuteSum sum;
  CHECK(sum.Minutes() == 0);
  sum.AddLine(12);
  CHECK(ShownMinutes(12) == 0);
  CHECK(sum.Minutes() == 1);  // what takes any time at all takes a minute
  sum.AddLine(31);
  sum.AddLine(31);
  CHECK(sum.Minutes() == 2);
  sum.AddChange(kChangeTime);
  CHECK(sum.Minutes() == 3);  // 134 s in all, but 1 + 1 and a change are shown
  for (int i = 0; i < 4; ++i) sum.AddLine(12);
  CHECK(sum.Minutes() == 4);
}

}  // namespace
}  // namespace rindwatch::rules
