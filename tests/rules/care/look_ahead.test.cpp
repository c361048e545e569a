// What comes, and what was done and not written down.
#include "rules/care/look_ahead.hpp"

#include "tests/catch.hpp"
#include "tests/rules/care/chance.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

namespace {

std::string TextOf(const ComingCare& care) {
  std::string text = std::to_string(NumberOf(care.day)) + ":";
  for (const CareKind kind : care.kinds) text += " " + std::string{ToText(kind)};
  text += " " + std::to_string(NumberOf(care.opens)) + "-" + std::to_string(NumberOf(care.due)) + "-" +
          std::to_string(NumberOf(care.window_end));
  return care.evening ? text + " evening" : text;
}
std::vector<std::string> TextsOf(const std::vector<ComingCare>& cares) {
  std::vector<std::string> texts;
  for (const ComingCare& care : cares) texts.push_back(TextOf(care));
  return texts;
}

std::vector<UnsettledRound> Unsettled(const Wheel& wheel, int first, int asked) {
  return UnsettledRounds(wheel.History(), wheel.Calendar(), Day(first), wheel.At(asked, 12));
}
std::vector<std::string> TextsOf(const std::vector<UnsettledRound>& rounds) {
  std::vector<std::string> texts;
  for (const UnsettledRound& round : rounds) {
    std::string text = std::to_string(NumberOf(round.day)) + ":";
    for (const CareKind kind : round.kinds) text += " " + std::string{ToText(kind)};
    texts.push_back(text);
  }
  return texts;
}

// "Forgot, all fine": a late entry for each.
void Write(Wheel& wheel, const std::vector<UnsettledRound>& rounds, Instant now) {
  for (const UnsettledRound& round : rounds) {
    wheel.Act(round.at, round.kinds, {});
    wheel.History().acts.back().known_from = now;
  }
}

}  // namespace

TEST_CASE("a coming care has the window in which it may be done") {
  Wheel wheel{Always({AWeek(2, {kWash}, {kTurn}), Every(2, {kTurn})})};
  wheel.Do(1, {kWash});
  const auto coming = ComingCares(wheel.History(), wheel.Calendar(), wheel.At(1, 12), Day(9));
  CHECK(TextsOf(coming) ==
        std::vector<std::string>{"3: turn 2-3-4", "5: wash turn 4-5-6", "7: turn 6-7-8", "8: wash turn 7-8-9"});
}

TEST_CASE("on days that are marked as away nobody comes, and what waited is met on the return") {
  Wheel wheel{Always({Every(2, {kTurn})})};
  wheel.Do(1, {kTurn});
  wheel.Away(4, 8);
  const auto coming = ComingCares(wheel.History(), wheel.Calendar(), wheel.At(1, 12), Day(12));
  std::vector<int> days;
  for (const ComingCare& care : coming) days.push_back(NumberOf(care.day));
  CHECK(days == std::vector{3, 9, 11});
}

TEST_CASE("mornings and evenings come one by one, and what is late comes first") {
  const Wheel wheel{Always({TwiceADay(kTurn), Every(3, {kWash})})};
  const auto coming = ComingCares(wheel.History(), wheel.Calendar(), wheel.At(5, 5), Day(5));
  CHECK(TextsOf(coming) == std::vector<std::string>{"5: turn 1-1-1", "5: wash 0-1-2", "5: turn 5-5-5 evening"});
}

TEST_CASE("forgot, all fine: one late entry for each due day, counted on as if it had been done") {
  Wheel wheel{Always({Every(3, {kWash}, {kTurn})})};
  wheel.Do(1, {kWash});
  CHECK(TextsOf(Unsettled(wheel, 2, 12)) == std::vector<std::string>{"4: wash turn", "7: wash turn", "10: wash turn"});
  Write(wheel, Unsettled(wheel, 2, 12), wheel.At(12, 12));
  CHECK(DueDay(wheel.On(12), kWash) == 13);
  CHECK(Unsettled(wheel, 2, 12).empty());
}

TEST_CASE("what was written inside its window is not asked again, what is only due today is not past") {
  Wheel wheel{Always({Every(3, {kWash})})};
  wheel.Do(1, {kWash});
  wheel.Do(5, {kWash});  // due on 4, still inside
  CHECK(Unsettled(wheel, 2, 8).empty());
  CHECK(TextsOf(Unsettled(wheel, 2, 9)) == std::vector<std::string>{"8: wash"});
}

TEST_CASE("forgotten mornings and evenings are two entries a day, those written stay one") {
  Wheel wheel{Always({TwiceADay(kTurn)})};
  wheel.Do(1, {kTurn}, 8);
  wheel.Do(1, {kTurn}, 19);
  wheel.Do(2, {kTurn}, 8);
  CHECK(TextsOf(Unsettled(wheel, 1, 4)) == std::vector<std::string>{"2: turn", "3: turn", "3: turn"});
}

TEST_CASE("away days were not forgotten") {
  Wheel wheel{Always({Every(2, {kTurn})})};
  wheel.Do(1, {kTurn});
  wheel.Away(3, 6);
  CHECK(TextsOf(Unsettled(wheel, 2, 10)) == std::vector<std::string>{"7: turn", "9: turn"});
}

TEST_CASE("after forgot, all fine nothing is late and nothing is left to write, whatever the plan") {
  for (unsigned seed = 11000; seed < 11150; ++seed) {
    INFO("seed " << seed);
    Chance chance(seed);
    Wheel wheel{chance.MakePlan(), 0};
    chance.SetCave(wheel, false, true);
    wheel.Enter(0, 5);
    const int asked = chance.Between(3, 40);
    const auto rounds = Unsettled(wheel, 0, asked);
    Write(wheel, rounds, wheel.At(asked, 11));
    CHECK(Unsettled(wheel, 0, asked).empty());
    for (const CareLine& line : wheel.On(asked, 12).lines) {
      INFO(TextOf(line));
      CHECK(line.state != CareState::kLate);
    }
  }
}

TEST_CASE("the coming cares are the days of looking ahead, and no window has passed") {
  for (unsigned seed = 12000; seed < 12060; ++seed) {
    INFO("seed " << seed);
    Chance chance(seed);
    Wheel wheel{chance.MakePlan(), 0};
    chance.SetCave(wheel, false, true);
    wheel.Enter(0, 5);
    const auto coming = ComingCares(wheel.History(), wheel.Calendar(), wheel.At(0, 6), Day(39));
    const auto ahead = LookAhead(wheel.History(), wheel.Calendar(), wheel.At(0, 6), 40);
    std::vector<Date> days, expected;
    for (const ComingCare& care : coming) {
      INFO(TextOf(care));
      CHECK(care.opens <= care.due);
      CHECK(care.due == care.day);
      CHECK(care.day <= care.window_end);
      if (days.empty() || days.back() != care.day) days.push_back(care.day);
    }
    for (const Ahead& day : ahead) expected.push_back(day.day);
    CHECK(days == expected);
  }
}
