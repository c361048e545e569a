#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

namespace {

// "1 turn, turn; 3 wash, turn": what is ahead, as one text.
std::string TextOf(const std::vector<Ahead>& ahead) {
  std::string text;
  for (const Ahead& day : ahead) {
    text += (text.empty() ? "" : "; ") + std::to_string(NumberOf(day.day));
    for (std::size_t i = 0; i < day.kinds.size(); ++i) {
      text += i == 0 ? " " : ", ";
      text += ToText(day.kinds[i]);
    }
  }
  return text;
}

std::vector<Ahead> Look(const Wheel& wheel, int from, int day_count, int hour = 5) {
  return LookAhead(wheel.History(), wheel.Calendar(), wheel.At(from, hour), day_count);
}

// The wheel lies in its box from day 0.
Wheel InTheBox() {
  Wheel wheel{*PlanFromLibrary("pressed-semi-hard")};
  wheel.Start(StartKind::kEnteredBox, 0);
  return wheel;
}

}  // namespace

// Common practice, no source.
TEST_CASE("the perfect keeper washes on days 1 to 7, 11, 14, 18, 21 and so on, then brushes weekly 96 times") {
  std::vector<int> washed, brushed;
  for (const Ahead& day : Look(InTheBox(), 0, 731, 9)) {
    REQUIRE(day.kinds.size() == 2);
    CHECK(day.kinds[1] == kTurn);
    (day.kinds[0] == kWash ? washed : brushed).push_back(NumberOf(day.day));
  }
  CHECK(washed == std::vector{1, 2, 3, 4, 5, 6, 7, 11, 14, 18, 21, 25, 28, 32, 35, 39, 42, 46, 49, 53, 56, 60});
  REQUIRE(brushed.size() == 96);
  for (int i = 0; i < 96; ++i) CHECK(brushed[static_cast<std::size_t>(i)] == 61 + 7 * i);
}

TEST_CASE("from the make on he turns morning and evening and answers the first question on its first day") {
  const Wheel wheel{*PlanFromLibrary("pressed-semi-hard")};
  // Day 2 is asked at the round of 07:00: the wheel enters the box that day, and its day 1 is day 3.
  CHECK(TextOf(Look(wheel, 0, 6, 9)) == "1 turn, turn; 2 turn; 3 wash, turn; 4 wash, turn; 5 wash, turn");
}

TEST_CASE("he looks ahead from what is settled already") {
  Wheel wheel = InTheBox();
  for (int day = 1; day <= 7; ++day) wheel.Do(day, {kWash}, 6);
  CHECK(TextOf(Look(wheel, 7, 8, 6)) == "11 wash, turn; 14 wash, turn");
  wheel.Do(9, {kWash}, 6);
  CHECK(TextOf(Look(wheel, 9, 12, 6)) == "12 wash, turn; 16 wash, turn; 19 wash, turn");
}

TEST_CASE("he stops when as many days as were asked for are found") {
  const Wheel wheel = InTheBox();
  const auto ahead = LookAhead(wheel.History(), wheel.Calendar(), wheel.At(0, 9), 400, 3);
  CHECK(TextOf(ahead) == "1 wash, turn; 2 wash, turn; 3 wash, turn");
}

TEST_CASE("what is late is done at the first round") {
  const Wheel wheel = InTheBox();
  CHECK(TextOf(Look(wheel, 5, 2, 12)) == "5 wash, turn; 6 wash, turn");
}

TEST_CASE("he takes the bloomy wheel from the mould to its holding") {
  const Wheel wheel{*PlanFromLibrary("bloomy")};
  const std::vector<Ahead> ahead = Look(wheel, 0, 51, 9);
  CHECK(TextOf({ahead.begin(), ahead.begin() + 10}) ==
        "0 turn; 1 turn, salt, turn; 2 turn, turn; 3 turn, turn; 4 turn; 5 turn; 6 pat, turn; 8 pat, turn; 10 turn; "
        "12 wrap, turn");
  CHECK(NumberOf(ahead.back().day) == 50);
}

TEST_CASE("he keeps the rounds of his own clock through a change of the clock") {
  Wheel wheel{Always({TwiceADay(kTurn)})};
  // One hour forward at 02:00 on day 5.
  wheel.Calendar().turn.zone = Zone("spring", hours{1}, {{Instant{(Day(5) + hours{1}).time_since_epoch()}, hours{2}}});
  const std::vector<Ahead> ahead = Look(wheel, 1, 10);
  REQUIRE(ahead.size() == 10);
  for (const Ahead& day : ahead) CHECK(day.kinds == std::vector{kTurn, kTurn});
}
