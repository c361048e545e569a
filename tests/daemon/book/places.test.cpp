#include "daemon/book/places.hpp"

#include "tests/catch.hpp"
#include "tests/daemon/book/keeping.hpp"

namespace rindwatch {
namespace {

using namespace testing;

// The names of all caves after wheels entered, each into a new one of its own.
std::vector<std::string> NamesAfter(std::vector<json::object> places) {
  Keeping keeping;
  for (json::object& place : places) keeping.Do("enter", PressedWheels(1, std::move(place)));
  std::vector<std::string> names;
  for (const CaveRow* cave : keeping.book.Caves()) names.push_back(cave->name);
  return names;
}

TEST_CASE("boxes are counted from the first, all else from the second") {
  CHECK(NamesAfter({NewCave("box"), NewCave("box"), NewCave("box")}) ==
        std::vector<std::string>{"Box 1", "Box 2", "Box 3"});
  CHECK(NamesAfter({NewCave("fridge"), NewCave("fridge"), NewCave("fridge")}) ==
        std::vector<std::string>{"Fridge", "Fridge 2", "Fridge 3"});
  CHECK(NamesAfter({NewCave("counter"), NewCave("room"), NewCave("counter"), NewCave("room")}) ==
        std::vector<std::string>{"Counter", "Cellar", "Counter 2", "Cellar 2"});
}

TEST_CASE("a name that the keeper gives is taken, and not given again by itself") {
  json::object named = NewCave("box");
  named.at("new").as_object()["name"] = "Box 2";
  CHECK(NamesAfter({named, NewCave("box"), NewCave("box")}) == std::vector<std::string>{"Box 2", "Box 1", "Box 3"});
}

TEST_CASE("a box and the fridge that it stands in can be made at once") {
  Keeping keeping;
  const JournalLine line =
      keeping.Do("enter", PressedWheels(1, NewCaveIn("box", json::object{{"kind", "fridge"}, {"name", "Old fridge"}})));
  REQUIRE(keeping.book.Caves().size() == 2);
  CHECK(keeping.book.Cave(1)->name == "Old fridge");
  CHECK_FALSE(keeping.book.Cave(1)->inside);
  CHECK(keeping.book.Cave(2)->name == "Box 1");
  CHECK(keeping.book.Cave(2)->inside == 1);
  CHECK(line.cave == 2);
}

TEST_CASE("two boxes made at once, one in the other, get two names") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(1, NewCaveIn("box", json::object{{"kind", "box"}})));
  CHECK(keeping.book.Cave(1)->name == "Box 1");
  CHECK(keeping.book.Cave(2)->name == "Box 2");
}

TEST_CASE("caves stand in the order in which they came, each followed by what stands inside it") {
  const auto names = NamesAfter({NewCave("counter"), NewCave("fridge"), NewCave("room"), NewCaveIn("box", 2),
                                 NewCaveIn("box", 3), NewCaveIn("box", 2)});
  CHECK(names == std::vector<std::string>{"Counter", "Fridge", "Box 1", "Box 3", "Cellar", "Box 2"});
}

TEST_CASE("the name of a cave that was undone is free again") {
  Keeping keeping;
  const JournalLine first = keeping.Do("enter", PressedWheels(1, NewCave("box")));
  keeping.Do("undo", {{"of", first.id}});
  CHECK(keeping.book.Caves().empty());
  keeping.Do("enter", PressedWheels(1, NewCave("box")));
  REQUIRE(keeping.book.Caves().size() == 1);
  CHECK(keeping.book.Caves().front()->name == "Box 1");
  CHECK(keeping.book.Caves().front()->id == 2);  // numbers are never given twice
}

TEST_CASE("a cave stays although the act that made it is undone, as long as something is in it") {
  Keeping keeping;
  const JournalLine first = keeping.Do("enter", PressedWheels(1, NewCaveIn("box", json::object{{"kind", "fridge"}})));
  const bool wheel = GENERATE(true, false);
  if (wheel)
    keeping.Do("enter", PressedWheels(1, InCave(2)));
  else
    keeping.Do("probe", AirProbe("Box air", "box/air", InCave(2)));
  keeping.Do("undo", {{"of", first.id}});
  CHECK(keeping.book.Wheel(1) == nullptr);
  REQUIRE(keeping.book.Caves().size() == 2);
  CHECK(keeping.book.Cave(1)->name == "Fridge");
  CHECK(keeping.book.Cave(2)->name == "Box 1");
}

}  // namespace
}  // namespace rindwatch
