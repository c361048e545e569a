#include "daemon/round/today.hpp"

#include "tests/catch.hpp"
#include "tests/daemon/book/keeping.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using rules::CareKind;
using rules::CareState;

std::vector<rules::WheelId> IdsOf(const std::vector<rules::RoundWheel>& wheels) {
  std::vector<rules::WheelId> ids;
  for (const rules::RoundWheel& wheel : wheels) ids.push_back(wheel.id);
  return ids;
}

json::object At(json::object where, const char* shelf) {
  where["shelf"] = shelf;
  return where;
}

json::object Bloomies(int count, json::object where, int made_days_ago) {
  json::object enter = PressedWheels(count, std::move(where), made_days_ago);
  enter["plan"] = "bloomy";
  return enter;
}

// The round with what stands beside it.
struct Whole : DayRound, Outlook {};
Whole RoundOf(const Keeping& keeping) {
  Today today(keeping.book);
  Whole whole;
  static_cast<DayRound&>(whole) = today.Round(keeping.now, {});
  static_cast<Outlook&>(whole) = today.TheOutlook();
  return whole;
}

// "2 3 wash,turn due" for each line, in order.
std::vector<std::string> Told(const DayRound& round) {
  std::vector<std::string> told;
  for (const rules::Round::Line& at : round.work.lines) {
    const rules::RoundLine& line = *at.line;
    std::string text;
    for (const rules::WheelId id : IdsOf(line.wheels)) text += std::to_string(id) + " ";
    for (const CareKind kind : line.care->kinds) text += std::string(rules::ToText(kind)) + " ";
    told.push_back(text + std::string(rules::ToText(line.care->state)));
  }
  return told;
}

TEST_CASE("nobody's round is empty") {
  const Keeping keeping;
  const Whole round = RoundOf(keeping);
  CHECK(round.work.lines.empty());
  CHECK(round.work.questions.empty());
  CHECK(round.coming.empty());
  CHECK(round.later.empty());
  CHECK(round.Left() == 0);
  CHECK(rules::ToText(round.Day()) == "2026-03-12");
}

TEST_CASE("wheels of one lot, place and day that ask the same are one line") {
  Keeping keeping;
  keeping.Do("enter", InTheBox(PressedWheels(3, NewCave("box"), 5), 2));
  const Whole round = RoundOf(keeping);
  REQUIRE(round.work.lines.size() == 1);
  const rules::RoundLine& line = *round.work.lines.front().line;
  CHECK(IdsOf(line.wheels) == std::vector<rules::WheelId>{1, 2, 3});
  CHECK(line.care->kinds == std::vector<CareKind>{CareKind::kWash, CareKind::kTurn});
  CHECK(line.care->state == CareState::kDue);
  CHECK(keeping.book.Cave(line.place.cave)->name == "Box 1");
  CHECK(round.Left() == 1);
}

TEST_CASE("another lot, another board, another cave or another day is another line") {
  Keeping keeping;
  keeping.Do("enter", InTheBox(PressedWheels(1, NewCave("room"), 5), 2));
  keeping.Do("enter", InTheBox(PressedWheels(1, InCave(1), 5), 2));
  keeping.Do("enter", InTheBox(PressedWheels(2, At(InCave(1), "A1"), 5), 2));
  keeping.Do("enter", InTheBox(PressedWheels(1, NewCave("box"), 5), 2));
  keeping.Do("enter", InTheBox(PressedWheels(1, InCave(1), 5), 3));
  CHECK(RoundOf(keeping).work.lines.size() == 5);
}

TEST_CASE("wheels that were cared for leave the line of those that were not") {
  Keeping keeping;
  keeping.Do("enter", InTheBox(PressedWheels(3, NewCave("box"), 5), 2));
  keeping.now += 1min;
  const JournalLine done = keeping.Do("care", Care({2}, {"wash"}));
  CHECK(Told(RoundOf(keeping)) == std::vector<std::string>{"1 3 wash turn due", "2 wash turn done"});
  CHECK(RoundOf(keeping).work.lines[1].line->care->settled_by == done.id);
  CHECK(RoundOf(keeping).Left() == 1);
  keeping.now += 1min;
  keeping.Do("care", Care({3}, {"turn"}));
  CHECK(Told(RoundOf(keeping)) == std::vector<std::string>{"1 wash turn due", "3 wash turn due", "2 wash turn done"});
  CHECK(RoundOf(keeping).work.lines[1].line->care->done_kinds == std::vector<CareKind>{CareKind::kTurn});
}

TEST_CASE("an undone care is due again, with the others") {
  Keeping keeping;
  keeping.Do("enter", InTheBox(PressedWheels(3, NewCave("box"), 5), 2));
  keeping.now += 1min;
  const JournalLine done = keeping.Do("care", Care({2}, {"wash"}));
  keeping.Do("undo", {{"of", done.id}});
  CHECK(Told(RoundOf(keeping)) == std::vector<std::string>{"1 2 3 wash turn due"});
}

TEST_CASE("fresh and white rinds come before pressed ones, over all caves; then the caves; then young before old") {
  Keeping keeping;
  keeping.Do("enter", InTheBox(PressedWheels(1, NewCave("fridge"), 9), 6));  // 1
  keeping.Do("enter", Bloomies(1, NewCave("room"), 8));                      // 2
  keeping.Do("enter", InTheBox(PressedWheels(1, InCave(2), 5), 2));          // 3
  keeping.Do("enter", Bloomies(1, InCave(1), 8));                            // 4
  keeping.Do("enter", InTheBox(PressedWheels(1, InCave(1), 5), 2));          // 5
  const Whole round = RoundOf(keeping);
  std::vector<rules::WheelId> order;
  for (const rules::Round::Line& at : round.work.lines) order.push_back(at.line->wheels.front().id);
  CHECK(order == std::vector<rules::WheelId>{4, 2, 5, 1, 3});
}

TEST_CASE("a question is asked once for wheels of one lot, place and day") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(2, NewCave("counter"), 3));
  keeping.Do("enter", PressedWheels(1, InCave(1), 1));  // not yet asked
  const Whole round = RoundOf(keeping);
  REQUIRE(round.work.questions.size() == 1);
  CHECK(IdsOf(round.work.questions.front().question->wheels) == std::vector<rules::WheelId>{1, 2});
  CHECK(round.work.questions.front().question->question->text == "Dry to the touch?");
  CHECK(round.work.questions.front().question->question->start == rules::StartKind::kEnteredBox);
  keeping.Do("answer", {{"wheels", Ids({1})}, {"start", "entered box"}});
  CHECK(IdsOf(RoundOf(keeping).work.questions.front().question->wheels) == std::vector<rules::WheelId>{2});
}

TEST_CASE("wheels that are gone ask nothing") {
  Keeping keeping;
  keeping.Do("enter", InTheBox(PressedWheels(2, NewCave("box"), 5), 2));
  keeping.Do("gone", {{"wheels", Ids({1})}, {"how", "eaten"}});
  CHECK(Told(RoundOf(keeping)) == std::vector<std::string>{"2 wash turn due"});
}

TEST_CASE("when all is done the next day with work is told, and how many wheels it holds") {
  Keeping keeping;
  keeping.Do("enter", InTheBox(PressedWheels(2, NewCave("box"), 5), 2));
  keeping.Do("enter", InTheBox(PressedWheels(1, NewCave("room"), 40), 30));
  keeping.now += 1min;
  keeping.Do("care", Care({1, 2, 3}, {"wash"}));
  const Whole round = RoundOf(keeping);
  CHECK(round.Left() == 0);
  REQUIRE_FALSE(round.coming.empty());
  const rules::ComingDay& next = round.coming.front();
  CHECK(rules::ToText(next.day) == "2026-03-13");
  REQUIRE(next.lines.size() == 1);
  CHECK(keeping.book.Cave(next.lines.front().place.cave)->name == "Box 1");
  CHECK(IdsOf(next.lines.front().wheels) == std::vector<rules::WheelId>{1, 2});
  CHECK(round.later.empty());
}

TEST_CASE("what is asked for a second time later today comes next, not before its hour") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(1, NewCave("counter"), 1));
  keeping.now += 1min;
  keeping.Do("care", Care({1}, {"turn"}));
  const Whole round = RoundOf(keeping);
  CHECK(round.Left() == 0);
  REQUIRE(round.later.size() == 1);
  CHECK(round.later.front().due == round.Day());
  CHECK(round.later.front().from == keeping.now + 6h);
}

TEST_CASE("what may be done early names the wheels, apart from what is due") {
  Keeping keeping;
  // Washed twice a week: the day after a wash nothing is due, the day before the next it may be done.
  keeping.Do("enter", InTheBox(PressedWheels(2, NewCave("box"), 15), 12));
  keeping.now += 1min;
  keeping.Do("care", Care({1, 2}, {"wash"}));
  keeping.now += 24h * 3;
  const Whole round = RoundOf(keeping);
  CHECK(round.Left() == 0);
  REQUIRE(round.open.size() == 1);
  CHECK(IdsOf(round.open.front().wheels) == std::vector<rules::WheelId>{1, 2});
  CHECK(rules::ToText(round.open.front().due) == "2026-03-16");
  keeping.now += 24h;
  CHECK(RoundOf(keeping).open.empty());
  CHECK(RoundOf(keeping).Left() == 1);
}

TEST_CASE("the day of a round turns at four in the morning") {
  Keeping keeping;
  keeping.Do("enter", InTheBox(PressedWheels(1, NewCave("box"), 5), 2));
  keeping.now = kThursday + 18h + 30min;  // 03:30 of Friday
  CHECK(rules::ToText(RoundOf(keeping).Day()) == "2026-03-12");
  keeping.Do("care", Care({1}, {"wash"}));
  CHECK(RoundOf(keeping).Left() == 0);
  keeping.now = kThursday + 19h;  // 04:00
  CHECK(rules::ToText(RoundOf(keeping).Day()) == "2026-03-13");
  CHECK(RoundOf(keeping).Left() == 1);
}

}  // namespace
}  // namespace rindwatch
