#include "daemon/book/boards.hpp"

#include <random>

#include "tests/catch.hpp"

namespace rindwatch {
namespace {

using rules::WheelId;

std::vector<int> NumbersOf(const Boards& boards, const std::vector<WheelId>& wheels) {
  std::vector<int> numbers;
  for (const WheelId wheel : wheels) numbers.push_back(boards.NumberOf(wheel));
  return numbers;
}

TEST_CASE("a wheel has the number that it was given, and none once it is gone") {
  Boards boards;
  boards.Lay(1, {1, "A1", 4}, 7);
  boards.Lay(2, {1, "A1", 2}, 7);
  CHECK(NumbersOf(boards, {1, 2, 3}) == std::vector{4, 2, 0});
  boards.Lift(1);
  CHECK(NumbersOf(boards, {1, 2, 3}) == std::vector{0, 2, 0});
}

TEST_CASE("where two were given one number the later goes to the end, and so do those that were given none") {
  Boards boards;
  boards.Lay(3, {1, "A1", 2}, 7);
  boards.Lay(1, {1, "A1", 2}, 7);
  boards.Lay(4, {1, "A1", 0}, 7);
  boards.Lay(2, {1, "A1", 5}, 7);
  CHECK(NumbersOf(boards, {1, 2, 3, 4}) == std::vector{2, 5, 6, 7});
  boards.Lay(1, {1, "A2", 1}, 7);
  CHECK(NumbersOf(boards, {1, 2, 3, 4}) == std::vector{1, 5, 2, 6});
}

TEST_CASE("the boards tell when something comes to lie elsewhere, and only then") {
  Boards boards;
  boards.Lay(1, {1, "A1", 1}, 7);
  const auto before = boards.Version();
  boards.Lay(1, {1, "A1", 1}, 7);
  boards.Lift(2);
  CHECK(boards.Version() == before);
  boards.Lay(1, {1, "A1", 2}, 7);
  CHECK(boards.Version() != before);
}

TEST_CASE("wheels of a lot are counted on their board alone") {
  Boards boards;
  boards.Lay(1, {1, "A1", 1}, 7);
  boards.Lay(2, {1, "A1", 2}, 7);
  boards.Lay(3, {1, "A1", 3}, 8);
  boards.Lay(4, {2, "A1", 1}, 7);
  CHECK(boards.LotBeside(1) == 2);
  CHECK(boards.LotBeside(4) == 1);
  CHECK(boards.LotBeside(5) == 0);
  boards.Lay(1, {1, "A1", 1}, 8);
  CHECK(boards.LotBeside(2) == 1);
  CHECK(boards.LotBeside(3) == 2);
}

TEST_CASE("caves with a board of one name are those where something lies on it") {
  Boards boards;
  boards.Lay(1, {1, "A1", 1}, 7);
  boards.Lay(2, {2, "A1", 1}, 7);
  boards.Lay(3, {2, "A10", 1}, 7);
  boards.Lay(4, {std::nullopt, "A1", 1}, 7);
  CHECK(boards.CavesWith("A1") == std::set<rules::CaveId>{1, 2});
  boards.Lift(1);
  CHECK(boards.CavesWith("A1") == std::set<rules::CaveId>{2});
  CHECK(boards.CavesWith("A2").empty());
}

TEST_CASE("boards after any laying and lifting are those on which the wheels were laid at once") {
  struct Lies {
    Place place;
    LotId lot = 0;
  };
  for (unsigned seed = 1; seed <= 50; ++seed) {
    std::mt19937 random(seed);
    const auto between = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
    Boards boards;
    std::map<WheelId, Lies> there;
    for (int step = 0; step < 60; ++step) {
      const WheelId wheel = between(1, 12);
      if (between(0, 3) == 0) {
        boards.Lift(wheel);
        there.erase(wheel);
      } else {
        there[wheel] = {{between(1, 2), "A" + std::to_string(between(1, 2)), between(0, 5)}, between(1, 3)};
        boards.Lay(wheel, there[wheel].place, there[wheel].lot);
      }
      if (between(0, 2) != 0) continue;  // numbers are asked for now and then
      Boards anew;
      for (const auto& [id, lies] : there) anew.Lay(id, lies.place, lies.lot);
      INFO("seed " << seed << ", step " << step);
      for (WheelId id = 1; id <= 12; ++id) {
        CHECK(boards.NumberOf(id) == anew.NumberOf(id));
        CHECK(boards.LotBeside(id) == anew.LotBeside(id));
      }
      for (const char* shelf : {"A1", "A2"}) CHECK(boards.CavesWith(shelf) == anew.CavesWith(shelf));
    }
  }
}

}  // namespace
}  // namespace rindwatch
