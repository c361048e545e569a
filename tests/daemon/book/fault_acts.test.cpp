// A fault that was found at the shelf: what is marked, agreed, looked at again and held; how it ends.
#include <algorithm>

#include "rules/faults/faults.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/book/keeping.hpp"
#include "tests/daemon/book/says.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using rules::CareKind;

// Lot 1, four pressed wheels: three on A1, one in a fridge. Lot 2, one on A1. All in the box stage since nine days.
struct Shelves : Keeping {
  Shelves() {
    json::object a1 = NewCave("room");
    a1["shelf"] = "A1";
    Do("enter", InTheBox(PressedWheels(4, a1, 12), 9));
    json::object there = InCave(1);
    there["shelf"] = "A1";
    Do("enter", InTheBox(PressedWheels(1, there, 12), 9));
    now += 1h;
    Do("move", {{"wheels", Ids({4})}, {"to", NewCave("fridge")}});
  }
  JournalLine Find(json::object more) {
    json::object fault{{"what", "slime"}, {"wheels", Ids({1, 2})}, {"of", 4}, {"agreed", true}};
    for (auto& [name, value] : more) fault[name] = value;
    return Do("fault", fault);
  }
  std::vector<std::string> Asked(rules::WheelId wheel, int in_days) const {
    const auto at = now + std::chrono::hours{24 * in_days};
    std::vector<std::string> asked;
    for (const rules::CareLine& line : rules::ScheduleAt(Wheel(wheel).History(), book.CalendarOf(1), at).lines) {
      if (line.agreed && line.OnRound()) asked.emplace_back(rules::ToText(line.kinds.front()));
    }
    return asked;
  }
  bool LooksAgain(rules::WheelId wheel) const {
    for (int day = 0; day < 15; ++day) {
      const auto asked = Asked(wheel, day);
      if (std::ranges::find(asked, "look") != asked.end()) return true;
    }
    return false;
  }
};

TEST_CASE("a fault marks its wheels, and who agrees looks again at them, their neighbours and their sisters") {
  Shelves shelves;
  const JournalLine fault = shelves.Find({});
  CHECK(fault.wheels == std::vector<rules::WheelId>{1, 2});
  const auto marks = shelves.book.MarksOf(shelves.Wheel(1));
  REQUIRE(marks.size() == 1);
  CHECK(marks.front()->value->what == "slime");
  CHECK(marks.front()->value->look_again > *DayFrom(DaysAgo(0)));
  CHECK(shelves.book.MarksOf(shelves.Wheel(3)).empty());
  CHECK(shelves.LooksAgain(1));
  CHECK(shelves.LooksAgain(3));
  const auto& advice = rules::AdviceFor(rules::FaultKind::kSlime, rules::RindClass::kNaturalAndPressed, 12);
  CHECK(shelves.LooksAgain(5) == advice.neighbours);
  CHECK(shelves.LooksAgain(4) == advice.sisters);
  CHECK_FALSE(shelves.book.HoldOf(shelves.Wheel(1)));
}

TEST_CASE("one undo takes back all that a fault brought, for all or for one") {
  Shelves shelves;
  const JournalLine fault = shelves.Find({{"hold", "lot"}});
  CHECK(shelves.book.HoldOf(shelves.Wheel(4))->value.why == "slime");
  CHECK_FALSE(shelves.book.HoldOf(shelves.Wheel(5)));
  const JournalLine one = shelves.Do("undo", {{"of", fault.id}, {"wheels", Ids({1})}});
  CHECK(shelves.book.MarksOf(shelves.Wheel(1)).empty());
  CHECK_FALSE(shelves.LooksAgain(1));
  CHECK(shelves.LooksAgain(2));
  CHECK_FALSE(shelves.book.HoldOf(shelves.Wheel(1)));
  shelves.Do("undo", {{"of", one.id}});
  CHECK(shelves.LooksAgain(1));
  const JournalLine all = shelves.Do("undo", {{"of", fault.id}});
  for (const rules::WheelId wheel : {1, 2, 3, 4, 5}) {
    CAPTURE(wheel);
    CHECK_FALSE(shelves.LooksAgain(wheel));
    CHECK_FALSE(shelves.book.HoldOf(shelves.Wheel(wheel)));
  }
  shelves.Do("undo", {{"of", all.id}});
  CHECK(shelves.LooksAgain(2));
}

TEST_CASE("an undo that arrives before its fault holds") {
  Shelves shelves;
  json::object fault = shelves.Act("fault", {{"what", "slime"}, {"wheels", Ids({1})}, {"of", 4}, {"agreed", true}});
  shelves.Do("undo", {{"of", fault.at("id")}});
  shelves.Do(fault);
  CHECK(shelves.book.MarksOf(shelves.Wheel(1)).empty());
  CHECK_FALSE(shelves.LooksAgain(1));
  CHECK_FALSE(shelves.LooksAgain(3));
}

TEST_CASE("who only notes a fault marks the wheels and agrees to nothing") {
  Shelves shelves;
  shelves.Find({{"agreed", false}, {"hold", "wheels"}});
  CHECK(shelves.book.MarksOf(shelves.Wheel(1)).size() == 1);
  CHECK_FALSE(shelves.book.MarksOf(shelves.Wheel(1)).front()->value->look_again);
  CHECK_FALSE(shelves.LooksAgain(1));
  CHECK(shelves.book.HoldOf(shelves.Wheel(1)));
  CHECK_FALSE(shelves.book.HoldOf(shelves.Wheel(3)));
}

TEST_CASE("a look that finds the fault gone clears the mark, and a later fault marks anew") {
  Shelves shelves;
  shelves.Find({});
  shelves.now += 48h;
  json::object look = Care({1}, {"look"});
  shelves.Do("care", look);
  CHECK(shelves.book.MarksOf(shelves.Wheel(1)).size() == 1);
  look["clears"] = true;
  shelves.now += 1h;
  const JournalLine cleared = shelves.Do("care", look);
  CHECK(shelves.book.MarksOf(shelves.Wheel(1)).empty());
  CHECK(shelves.book.MarksOf(shelves.Wheel(2)).size() == 1);
  shelves.now += 1h;
  shelves.Find({{"what", "mite dust"}});
  CHECK(shelves.book.MarksOf(shelves.Wheel(1)).size() == 1);
  shelves.Do("undo", {{"of", cleared.id}});
  CHECK(shelves.book.MarksOf(shelves.Wheel(1)).size() == 2);
  json::object turned = Care({1}, {"turn"});
  turned["clears"] = true;
  CHECK(shelves.Refused("care", turned).field == "clears");
}

TEST_CASE("every fault can be found on every rind") {
  for (int kind = 0; kind <= static_cast<int>(rules::kLastFaultKind); ++kind) {
    Shelves shelves;
    const std::string what(rules::ToText(static_cast<rules::FaultKind>(kind)));
    CAPTURE(what);
    shelves.Find({{"what", what}, {"note", "on the edge"}});
    CHECK(shelves.LooksAgain(1));
  }
}

TEST_CASE("a fault that says too little or too much is refused") {
  Shelves shelves;
  const json::object sound{{"what", "slime"}, {"wheels", Ids({1, 2})}, {"of", 4}, {"agreed", true}};
  const auto refused = [&](const char* field, json::value value) {
    json::object fault = sound;
    fault[field] = std::move(value);
    return shelves.Refused("fault", fault);
  };
  CHECK_THAT(refused("what", "mould").what, Says("Nobody knows a fault called \"mould\"."));
  CHECK_THAT(refused("of", 1).what, Says("2 of 1 cannot have the fault."));
  CHECK(refused("agreed", nullptr).field == "agreed");
  CHECK(refused("hold", "all").field == "hold");
  CHECK(refused("wheels", Ids({})).field == "wheels");
  CHECK(refused("note", 3).field == "note");
}

}  // namespace
}  // namespace rindwatch
