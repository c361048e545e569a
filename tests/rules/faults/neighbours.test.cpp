#include "rules/faults/neighbours.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::rules;

namespace {

constexpr CaveId kCellar = 1, kBox = 2;
const std::map<CaveId, std::vector<std::string>> kShelves{{kCellar, {"A1", "A2", "B1", "B3"}}};

const std::vector<LyingWheel> kLying{{1, 205, kCellar, "B3"}, {2, 205, kCellar, "B3"}, {3, 214, kCellar, "B1"},
                                     {4, 205, kCellar, "A1"}, {5, 208, kCellar, "A2"}, {6, 301, kBox, ""},
                                     {7, 302, kBox, ""}};

FaultAdvice Looking(bool neighbours, bool sisters) {
  FaultAdvice advice;
  advice.neighbours = neighbours;
  advice.sisters = sisters;
  return advice;
}

using Wheels = std::vector<WheelId>;

}  // namespace

TEST_CASE("neighbours lie on the same shelf and on the next ones, sisters are the lot's others elsewhere") {
  const LookAgain look = WhereToLookAgain(Looking(true, true), {1}, kLying, kShelves);
  CHECK(look.these == Wheels{1});
  CHECK(look.neighbours == Wheels{2, 3});
  CHECK(look.sisters == Wheels{4});
}

TEST_CASE("who is not named by the advice is not looked at") {
  CHECK(WhereToLookAgain(Looking(true, false), {1}, kLying, kShelves).sisters.empty());
  CHECK(WhereToLookAgain(Looking(false, true), {1}, kLying, kShelves).sisters == Wheels{2, 4});
  CHECK(WhereToLookAgain(Looking(false, true), {1}, kLying, kShelves).neighbours.empty());
}

TEST_CASE("in a box all that lie in it are neighbours, and nothing outside it is") {
  const LookAgain look = WhereToLookAgain(Looking(true, true), {6}, kLying, kShelves);
  CHECK(look.neighbours == Wheels{7});
  CHECK(look.sisters.empty());
}

TEST_CASE("a shelf whose way is not known has no next one") {
  const LookAgain look = WhereToLookAgain(Looking(true, false), {1}, kLying, {});
  CHECK(look.neighbours == Wheels{2});
}

TEST_CASE("a shelf in the middle has two next ones") {
  const LookAgain look = WhereToLookAgain(Looking(true, false), {3}, kLying, kShelves);
  CHECK(look.neighbours == Wheels{1, 2, 5});
}
