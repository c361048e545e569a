#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

namespace {

Wheel Turned() { return Wheel{Always({TwiceADay(kTurn)})}; }

// "due", "late since 3", "evening due", "not yet until 13:00": the pending turn at an hour.
std::string TurnOn(const Wheel& wheel, int day, int hour, int minute = 0) {
  const Schedule schedule = wheel.On(day, hour, minute);
  const CareLine* line = Pending(schedule, kTurn);
  if (!line) return "none";
  std::string text = line->evening ? "evening " : "";
  text += ToText(line->state);
  if (line->late_since) text += " since " + std::to_string(NumberOf(*line->late_since));
  if (line->state == CareState::kNotYet) text += " until " + ToText(*line->not_before).substr(5, 11);
  return text;
}

}  // namespace

TEST_CASE("the first of a day is due from the day's start, the second from 6 hours after the first") {
  Wheel wheel = Turned();
  CHECK(TurnOn(wheel, 1, 4) == "due");
  wheel.Do(1, {kTurn}, 7);
  CHECK(TurnOn(wheel, 1, 12, 59) == "evening not yet until 03-03T13:00");
  CHECK(RoundOf(wheel.On(1, 12, 59)) == "turn done");
  CHECK(TurnOn(wheel, 1, 13) == "evening due");
  wheel.Do(1, {kTurn}, 19);
  CHECK(TurnOn(wheel, 1, 20) == "not yet until 03-04T04:00");
  CHECK(TurnOn(wheel, 2, 4) == "due");
}

TEST_CASE("after a late evening the first of the next day waits its 6 hours") {
  Wheel wheel = Turned();
  wheel.Do(1, {kTurn}, 9);
  wheel.Do(1, {kTurn}, 26);  // 02:00
  CHECK(TurnOn(wheel, 2, 7, 59) == "not yet until 03-04T08:00");
  CHECK(TurnOn(wheel, 2, 8) == "due");
}

TEST_CASE("a doing before its hours is a repeat, and a repeat is not a last doing") {
  Wheel wheel = Turned();
  wheel.Do(1, {kTurn}, 7);
  wheel.Do(1, {kTurn}, 12);
  CHECK(TurnOn(wheel, 1, 13) == "evening due");
  CHECK(RoundOf(wheel.On(1, 12, 30)) == "turn done");
}

TEST_CASE("what a day left undone is not made up, and a day with one makes nothing late") {
  Wheel wheel = Turned();
  wheel.Do(1, {kTurn}, 23);
  CHECK(TurnOn(wheel, 1, 27, 59) == "not yet until 03-04T05:00");  // no second fits into the day
  CHECK(TurnOn(wheel, 2, 5) == "due");
  CHECK(TurnOn(wheel, 2, 27) == "due");
}

TEST_CASE("after a whole day without a doing the next first is late, since the first such day") {
  Wheel wheel = Turned();
  wheel.Do(2, {kTurn}, 9);
  CHECK(TurnOn(wheel, 3, 12) == "due");
  CHECK(TurnOn(wheel, 4, 4) == "late since 3");
  CHECK(TurnOn(wheel, 6, 4) == "late since 3");
  wheel.Do(6, {kTurn}, 9);
  CHECK(TurnOn(wheel, 6, 15) == "evening due");
  CHECK(TurnOn(wheel, 7, 12) == "due");
}

TEST_CASE("the day of entry is a day without a doing, but nothing is late on the day after it") {
  Wheel wheel{Always({TwiceADay(kTurn)}), 3};
  CHECK(TurnOn(wheel, 3, 12) == "due");
  CHECK(TurnOn(wheel, 4, 12) == "due");
  CHECK(TurnOn(wheel, 5, 12) == "late since 3");
}

TEST_CASE("a skip counts here as a doing, a second one too") {
  Wheel wheel = Turned();
  wheel.Skip(1, {kTurn}, 7);
  CHECK(TurnOn(wheel, 1, 12) == "evening not yet until 03-03T13:00");
  wheel.Skip(1, {kTurn}, 12, 59);  // less than 6 hours after: a repeat
  CHECK(TurnOn(wheel, 1, 13) == "evening due");
  wheel.Skip(1, {kTurn}, 14);
  CHECK(TurnOn(wheel, 1, 15) == "not yet until 03-04T04:00");
  CHECK(RoundOf(wheel.On(1, 15)) == "turn skipped, turn skipped");
  CHECK(TurnOn(wheel, 2, 12) == "due");  // a day with skips makes nothing late
}

TEST_CASE("a doing less than 6 hours after a skip takes its place, a later one is the second") {
  Wheel wheel = Turned();
  wheel.Skip(1, {kTurn}, 7);
  wheel.Do(1, {kTurn}, 10);
  CHECK(RoundOf(wheel.On(1, 11)) == "turn done");
  CHECK(TurnOn(wheel, 1, 15) == "evening not yet until 03-03T16:00");
  Wheel later = Turned();
  later.Skip(1, {kTurn}, 7);
  later.Do(1, {kTurn}, 13);
  CHECK(RoundOf(later.On(1, 14)) == "turn skipped, turn done");
  CHECK(TurnOn(later, 1, 20) == "not yet until 03-04T04:00");
}

TEST_CASE("a doing that takes a skip's place on the next day is that day's first") {
  Wheel wheel = Turned();
  wheel.Do(1, {kTurn}, 9);
  wheel.Skip(1, {kTurn}, 26);  // 02:00
  wheel.Do(2, {kTurn}, 5);
  CHECK(RoundOf(wheel.On(2, 6)) == "turn done");
  CHECK(TurnOn(wheel, 2, 11) == "evening due");
}

TEST_CASE("a third on one day moves no due day") {
  Wheel wheel = Turned();
  wheel.Do(1, {kTurn}, 5);
  wheel.Do(1, {kTurn}, 11);
  wheel.Do(1, {kTurn}, 17);
  CHECK(TurnOn(wheel, 1, 23, 30) == "not yet until 03-04T04:00");
  CHECK(DueDay(wheel.On(1, 23), kTurn) == 2);
  CHECK(TurnOn(wheel, 2, 4) == "due");
}

TEST_CASE("days before entry, away days and day 0 are not days without a doing") {
  Wheel entered_late{Always({TwiceADay(kTurn)}), 9};
  CHECK(TurnOn(entered_late, 9, 12) == "due");

  Wheel away = Turned();
  away.Do(2, {kTurn}, 19);
  away.Away(3, 5);
  CHECK(TurnOn(away, 4, 12) == "due");
  CHECK(TurnOn(away, 6, 12) == "due");
  CHECK(Pending(away.On(6), kTurn)->away);
  CHECK(TurnOn(away, 7, 12) == "late since 6");

  Wheel day_zero{WithPart(Always({TwiceADay(kTurn)}), StartKind::kEnteredBox, 2, {StageOf(1, {}, {TwiceADay(kTurn)})})};
  day_zero.Do(2, {kTurn}, 9);
  day_zero.Start(StartKind::kEnteredBox, 3);
  CHECK(TurnOn(day_zero, 3, 12) == "not yet until 03-06T04:00");
  CHECK(TurnOn(day_zero, 4, 12) == "due");
  CHECK(TurnOn(day_zero, 5, 12) == "late since 4");
}

TEST_CASE("a turn late before an absence stays late through it, one that is not is forgiven") {
  Wheel late = Turned();
  late.Do(2, {kTurn}, 9);
  late.Away(5, 7);  // days 3 and 4 without a doing: late on day 4
  CHECK(TurnOn(late, 6, 12) == "late since 3");
  CHECK(TurnOn(late, 8, 12) == "late since 3");
  Wheel forgiven = Turned();
  forgiven.Do(3, {kTurn}, 9);
  forgiven.Away(5, 7);  // day 4 without a doing: it would become late on day 5
  CHECK(TurnOn(forgiven, 6, 12) == "due");
  CHECK(TurnOn(forgiven, 8, 12) == "due");
}

TEST_CASE("what was done just before the first day still gives the rind its rest") {
  Wheel wheel{PlanOf({StageOf(1, 2, {Every(1, {kTurn})}), StageOf(3, {}, {TwiceADay(kTurn)})})};
  wheel.Do(2, {kTurn}, 25);  // 01:00
  CHECK(TurnOn(wheel, 3, 5) == "not yet until 03-05T07:00");
  CHECK(TurnOn(wheel, 3, 7) == "due");
}

TEST_CASE("what was left undone on the day of entry is not late before an absence that begins two days later") {
  Wheel wheel = Turned();
  wheel.Enter(3, 8);
  wheel.Away(5, 6);
  CHECK(TurnOn(wheel, 4, 12) == "due");
  CHECK(TurnOn(wheel, 7, 12) == "due");
  CHECK(TurnOn(wheel, 8, 12) == "late since 7");
}
