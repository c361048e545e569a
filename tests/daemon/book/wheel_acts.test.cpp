// What keepers decide of wheels beside their cares: each act, what is refused, its undo.
#include "tests/catch.hpp"
#include "tests/daemon/book/keeping.hpp"
#include "tests/daemon/book/says.hpp"

namespace rindwatch {
namespace {

using namespace testing;

// Three pressed wheels in their box since nine days.
struct Three : Keeping {
  Three() {
    Do("enter", InTheBox(PressedWheels(3, NewCave("box"), 12), 9));
    now += 1h;
  }
  void Undo(const JournalLine& line) { Do("undo", {{"of", line.id}}); }
  std::vector<int> Numbers() const {
    std::vector<int> numbers;
    for (const WheelRow* wheel : book.Wheels()) numbers.push_back(book.NumberOf(*wheel));
    return numbers;
  }
};

TEST_CASE("a wheel is held with a reason, let go again, and an undo takes either back") {
  Three three;
  const JournalLine held = three.Do("hold", {{"wheels", Ids({1, 2})}, {"held", true}, {"why", "slime"}});
  REQUIRE(three.book.HoldOf(three.Wheel(2)));
  CHECK(three.book.HoldOf(three.Wheel(2))->value.why == "slime");
  CHECK_FALSE(three.book.HoldOf(three.Wheel(3)));
  three.now += 1h;
  const JournalLine let_go = three.Do("hold", {{"wheels", Ids({1})}, {"held", false}, {"why", ""}});
  CHECK_FALSE(three.book.HoldOf(three.Wheel(1)));
  three.Undo(let_go);
  CHECK(three.book.HoldOf(three.Wheel(1)));
  three.Undo(held);
  CHECK_FALSE(three.book.HoldOf(three.Wheel(1)));
  CHECK(three.Refused("hold", {{"wheels", Ids({1})}, {"held", true}, {"why", ""}}).field == "why");
  CHECK(three.Refused("hold", {{"wheels", Ids({1})}, {"held", "yes"}, {"why", "slime"}}).field == "held");
  CHECK(three.Refused("hold", {{"wheels", Ids({1})}, {"why", "slime"}}).field == "held");
  CHECK(three.Refused("hold", {{"wheels", Ids({9})}, {"held", true}, {"why", "slime"}}).field == "wheels");
}

TEST_CASE("a cut wheel goes on with what is left of it, and never grows") {
  Three three;
  const JournalLine half = three.Do("cut", {{"wheels", Ids({1})}, {"left", 0.5}, {"how", "eaten"}});
  CHECK(three.book.CutOf(three.Wheel(1))->value.left == Approx(0.5));
  CHECK(three.book.CutOf(three.Wheel(2)) == nullptr);
  CHECK(three.book.Wheels().size() == 3);
  three.now += 1h;
  const ActFault grown = three.Refused("cut", {{"wheels", Ids({1})}, {"left", 0.75}, {"how", "sold"}});
  CHECK(grown.field == "left");
  CHECK_THAT(grown.what, Says("Pressed semi-hard 1 was cut before; 0.5 of it was left."));
  three.Do("cut", {{"wheels", Ids({1})}, {"left", 0.25}, {"how", "sold"}});
  CHECK(three.book.CutOf(three.Wheel(1))->value.left == Approx(0.25));
  three.Undo(three.lines.back());
  CHECK(three.book.CutOf(three.Wheel(1))->value.left == Approx(0.5));
  three.Undo(half);
  CHECK(three.book.CutOf(three.Wheel(1)) == nullptr);
  for (const json::value& left :
       {json::value(0), json::value(1), json::value(-0.5), json::value("half"), json::value()}) {
    CAPTURE(left);
    CHECK(three.Refused("cut", {{"wheels", Ids({1})}, {"left", left}, {"how", "eaten"}}).field == "left");
  }
  CHECK(three.Refused("cut", {{"wheels", Ids({1})}, {"left", 0.5}}).field == "how");
}

TEST_CASE("a wheel that is split off takes its history along and stands under its own lot") {
  Three three;
  three.Do("care", Care({1, 2, 3}, {"wash"}));
  const JournalLine split = three.Do("split", {{"wheels", Ids({3})}, {"lot", "1b"}});
  CHECK(three.book.Lot(three.Wheel(3).lot).name == "1b");
  CHECK(three.book.ShowsLot(three.Wheel(3).lot));
  CHECK(three.book.Lot(three.Wheel(1).lot).name == "1");
  CHECK(three.Wheel(3).History().acts.size() == 1);
  CHECK(three.book.WheelName(three.Wheel(3)) == "Pressed semi-hard 3");
  CHECK_THAT(three.Refused("split", {{"wheels", Ids({1})}, {"lot", "1b"}}).what, Says("a lot called \"1b\" already"));
  CHECK_THAT(three.Refused("split", {{"wheels", Ids({1, 3})}, {"lot", "1c"}}).what, Says("not made together"));
  CHECK(three.Refused("split", {{"wheels", Ids({1})}, {"lot", ""}}).field == "lot");
  three.Undo(split);
  CHECK(three.Wheel(3).lot == three.Wheel(1).lot);
  CHECK(three.Do("split", {{"wheels", Ids({2})}, {"lot", "1d"}}).wheels.size() == 1);
}

TEST_CASE("a band of its own is what the engine hears of the wheel, until it is taken back") {
  Three three;
  const auto given = [&] {
    for (const rules::Input& input : three.book.InputsOfAll()) {
      const auto* wheel = std::get_if<rules::WheelGiven>(&input);
      if (wheel && wheel->wheel == 2) return *wheel;
    }
    throw std::runtime_error("the engine hears nothing of wheel 2");
  };
  CHECK_FALSE(given().own_temperature);
  const JournalLine band = three.Do("band", {{"wheels", Ids({2})}, {"temperature", {{"low", 8}, {"high", 10}}}});
  REQUIRE(given().own_temperature);
  CHECK(given().own_temperature->high == Approx(10));
  CHECK_FALSE(given().own_humidity);
  const auto heard = three.book.InputsOf(band, FactsOf(band));
  REQUIRE(heard.size() == 1);
  CHECK(std::get<rules::WheelGiven>(heard.front()).own_temperature->low == Approx(8));
  three.now += 1h;
  three.Do("band", {{"wheels", Ids({2})}});
  CHECK(three.book.BandOf(three.Wheel(2)) == nullptr);
  three.Undo(three.lines.back());
  CHECK(three.book.BandOf(three.Wheel(2)) != nullptr);
  CHECK(three.Refused("band", {{"wheels", Ids({2})}, {"humidity", {{"low", 90}, {"high", 80}}}}).field == "humidity");
  CHECK(three.Refused("band", {{"wheels", Ids({2})}, {"temperature", {{"low", 9}, {"high", 60}}}}).field ==
        "temperature");
}

TEST_CASE("what is young or moved is laid in now; what has ripened for longer and is entered lay there before") {
  Keeping keeping;
  const auto laid_now = [&](const JournalLine& line) {
    for (const rules::Input& input : keeping.book.InputsOf(line, FactsOf(line))) {
      if (const auto* wheel = std::get_if<rules::WheelGiven>(&input)) return wheel->laid_now;
    }
    throw std::runtime_error("the engine hears of no wheel");
  };
  const JournalLine old = keeping.Do("enter", PressedWheels(1, NewCave("fridge"), 8));
  CHECK_FALSE(laid_now(old));
  const std::int64_t fridge = *keeping.book.PlaceOf(keeping.Wheel(1)).cave;
  CHECK(laid_now(keeping.Do("enter", PressedWheels(1, InCave(fridge), 0))));
  CHECK(laid_now(keeping.Do("enter", PressedWheels(1, InCave(fridge), 7))));
  CHECK(laid_now(keeping.Do("move", {{"wheels", Ids({1})}, {"to", NewCave("room")}})));
}

// ---- what a care says beside what was done ----

TEST_CASE("a care keeps the version of the plan that it was done under") {
  Three three;
  three.Do("care", Care({1, 2}, {"wash"}));
  CHECK(three.Wheel(2).History().acts.back().under->id == "pressed-semi-hard");
  CHECK(three.Wheel(2).History().acts.back().under->version == 1);
}

TEST_CASE("those that were left out of a line are named with the reason, and nothing is done to them") {
  Three three;
  json::object care = Care({1, 2}, {"wash"});
  care["left"] = {{"wheels", Ids({3})}, {"why", "rind wet"}};
  three.Do("care", care);
  CHECK(three.Wheel(3).History().acts.empty());
  care["left"] = {{"wheels", Ids({2})}, {"why", ""}};
  CHECK_THAT(three.Refused("care", care).what, Says("cannot be both done and left out"));
  care["left"] = {{"wheels", Ids({7})}, {"why", ""}};
  CHECK_THAT(three.Refused("care", care).what, Says("There is no wheel 7"));
  care["left"] = "some";
  CHECK(three.Refused("care", care).field == "left");
}

TEST_CASE("a weighing keeps the weight: the newest counts, an undone one never was") {
  Three three;
  const auto weigh = [](double grams) {
    json::object care = Care({1}, {"weigh"});
    care["grams"] = grams;
    return care;
  };
  CHECK(three.book.WeightOf(three.Wheel(1)).value == Approx(0));
  three.Do("care", weigh(1480));
  three.now += 24h;
  const JournalLine second = three.Do("care", weigh(1455.5));
  CHECK(three.book.WeightOf(three.Wheel(1)).value == Approx(1455.5));
  three.Undo(second);
  CHECK(three.book.WeightOf(three.Wheel(1)).value == Approx(1480));
  CHECK(three.Refused("care", weigh(0)).field == "grams");
  CHECK(three.Refused("care", weigh(100'001)).field == "grams");
  json::object two = weigh(1480);
  two["wheels"] = Ids({1, 2});
  CHECK_THAT(three.Refused("care", two).what, Says("belongs to one wheel"));
  json::object turned = Care({1}, {"turn"});
  turned["grams"] = 1480;
  CHECK_THAT(three.Refused("care", turned).what, Says("comes with a weighing"));
}

TEST_CASE("the first piercing, wrapping and waxing is the start event of its name, on its day") {
  Three three;
  const auto started = [&](rules::StartKind kind, rules::WheelId wheel) -> std::string {
    for (const auto& start : three.Wheel(wheel).History().starts) {
      if (start.kind == kind && !three.book.IsUndone(start.id, wheel)) return rules::ToText(start.day);
    }
    return "never";
  };
  json::object late = three.Act("care", Care({1}, {"pierce"}));
  late["said_at"] = ToMillis(three.now - 48h);
  const JournalLine first = three.Do(late);
  CHECK(started(rules::StartKind::kPierced, 1) == DaysAgo(2));
  three.Do("care", Care({1, 2}, {"pierce", "turn"}));
  CHECK(started(rules::StartKind::kPierced, 1) == DaysAgo(2));
  CHECK(started(rules::StartKind::kPierced, 2) == DaysAgo(0));
  CHECK(started(rules::StartKind::kPierced, 3) == "never");
  three.Undo(first);
  CHECK(started(rules::StartKind::kPierced, 1) == "never");
  three.Do("care", Care({3}, {"wrap"}));
  three.Do("care", Care({3}, {"wax"}));
  CHECK(started(rules::StartKind::kWrapped, 3) == DaysAgo(0));
  CHECK(started(rules::StartKind::kWaxed, 3) == DaysAgo(0));
}

// ---- numbers from the door ----

TEST_CASE("wheels are numbered from the door: a lot in order, a moved one at the end, a gone one leaves its gap") {
  Three three;
  CHECK(three.Numbers() == std::vector<int>{1, 2, 3});
  three.Do("enter", PressedWheels(2, InCave(1)));
  CHECK(three.Numbers() == std::vector<int>{1, 2, 3, 4, 5});
  const JournalLine gone = three.Do("gone", {{"wheels", Ids({2})}, {"how", "not found"}});
  CHECK(three.Numbers() == std::vector<int>{1, 3, 4, 5});
  json::object board = InCave(1);
  board["shelf"] = "A1";
  three.now += 1h;
  three.Do("move", {{"wheels", Ids({1, 4})}, {"to", board}});
  CHECK(three.Numbers() == std::vector<int>{1, 3, 2, 5});
  three.now += 1h;
  three.Do("move", {{"wheels", Ids({4})}, {"to", InCave(1)}});
  CHECK(three.Numbers() == std::vector<int>{1, 3, 6, 5});
  three.Undo(gone);
  CHECK(three.Numbers() == std::vector<int>{1, 2, 3, 6, 5});
}

TEST_CASE("no two wheels of a shelf have one number, also where an undo brought one back") {
  Three three;
  const JournalLine gone = three.Do("gone", {{"wheels", Ids({3})}, {"how", "sold"}});
  three.Do("enter", PressedWheels(1, InCave(1)));
  CHECK(three.Numbers() == std::vector<int>{1, 2, 3});
  three.Undo(gone);
  CHECK(three.Numbers() == std::vector<int>{1, 2, 3, 4});
}

}  // namespace
}  // namespace rindwatch
