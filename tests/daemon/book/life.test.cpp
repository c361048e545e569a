#include "daemon/book/life.hpp"

#include <map>
#include <random>

#include "tests/catch.hpp"

using namespace rindwatch;
using rules::CareAct;
using rules::CareKind;

namespace {

rules::Instant At(int hour) { return rules::Instant{std::chrono::hours{hour}}; }

CareAct Done(int number, CareKind kind = CareKind::kTurn) {
  CareAct act;
  act.id = std::to_string(number);
  act.at = act.known_from = At(number);
  act.done = {kind};
  return act;
}

// A lot whose wheels came together.
struct Lot {
  explicit Lot(std::size_t size) : wheels(size) { Tell("enter", Entered{At(0)}); }
  // Every wheel but the one at `except` is told.
  void Tell(const std::string& line, const LifeEntry& entry, std::size_t except = static_cast<std::size_t>(-1)) {
    lives.Open(line);
    for (std::size_t i = 0; i < wheels.size(); ++i) {
      if (i != except) lives.Write(wheels[i], entry);
    }
  }

  Lives lives;
  std::vector<std::shared_ptr<WheelLife>> wheels;
};

}  // namespace

TEST_CASE("wheels that are told the same share one life") {
  Lot lot(3);
  lot.Tell("a", Done(1));
  lot.Tell("b", Done(2));
  CHECK(lot.wheels[0] == lot.wheels[1]);
  CHECK(lot.wheels[1] == lot.wheels[2]);
  CHECK(lot.wheels[0]->history.acts.size() == 2);
}

TEST_CASE("several facts of one line keep them together, wheel by wheel or fact by fact") {
  Lot lot(3);
  lot.lives.Open("a");
  for (auto& wheel : lot.wheels) {
    lot.lives.Write(wheel, Done(1));
    lot.lives.Write(wheel, Done(2, CareKind::kWash));
  }
  CHECK(lot.wheels[0] == lot.wheels[2]);
  CHECK(lot.wheels[0]->history.acts.size() == 2);
  CHECK(lot.wheels[0]->history.acts[1].done == rules::KindSet{CareKind::kWash});
}

TEST_CASE("a wheel that is left out goes its own way, and the others stay together") {
  Lot lot(4);
  lot.Tell("a", Done(1), 2);
  CHECK(lot.wheels[0] == lot.wheels[3]);
  CHECK(lot.wheels[0] != lot.wheels[2]);
  CHECK(lot.wheels[2]->history.acts.empty());
  lot.Tell("b", Done(2));
  CHECK(lot.wheels[0] == lot.wheels[1]);
  CHECK(lot.wheels[0]->history.acts.size() == 2);
  CHECK(lot.wheels[2]->history.acts.size() == 1);
}

TEST_CASE("wheels that a line tells different things part, those alike stay together") {
  Lot lot(4);
  lot.lives.Open("a");
  for (std::size_t i = 0; i < 4; ++i)
    lot.lives.Write(lot.wheels[i], Done(1, i % 2 ? CareKind::kWash : CareKind::kTurn));
  CHECK(lot.wheels[0] == lot.wheels[2]);
  CHECK(lot.wheels[1] == lot.wheels[3]);
  CHECK(lot.wheels[0] != lot.wheels[1]);
}

TEST_CASE("what says nothing new parts nobody") {
  Lot lot(2);
  lot.Tell("undo", rules::UndoAct{"u", "1", At(2)});
  lot.lives.Open("again");
  lot.lives.Write(lot.wheels[0], rules::UndoAct{"u", "1", At(2)});
  lot.lives.Write(lot.wheels[1], Gone{});
  CHECK(lot.wheels[0] == lot.wheels[1]);
  CHECK(lot.wheels[0]->history.undos.size() == 1);
}

TEST_CASE("reasons are compared as texts") {
  Lot lot(2);
  lot.lives.Open("skip");
  for (auto& wheel : lot.wheels) {
    CareAct skip = Done(1);
    skip.reason = std::string{"rind wet"};
    lot.lives.Write(wheel, skip);
  }
  CHECK(lot.wheels[0] == lot.wheels[1]);
}

TEST_CASE("a stamp stands for one history, whatever happens to whom") {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    INFO("seed " << seed);
    std::mt19937 random(seed);
    Lot lot(6);
    std::vector<rules::WheelHistory> apart(6);
    std::map<std::uint64_t, std::size_t> acts_of_stamp;
    for (int line = 1; line <= 60; ++line) {
      lot.lives.Open(std::to_string(line));
      for (std::size_t i = 0; i < 6; ++i) {
        if (random() % 8 == 0) continue;
        lot.lives.Write(lot.wheels[i], Done(line));
        apart[i].acts.push_back(Done(line));
      }
      for (std::size_t i = 0; i < 6; ++i) {
        REQUIRE(lot.wheels[i]->history.acts == apart[i].acts);
        for (std::size_t j = 0; j < 6; ++j) {
          if (lot.wheels[i]->stamp == lot.wheels[j]->stamp) CHECK(apart[i].acts == apart[j].acts);
        }
        const auto [known, is_new] = acts_of_stamp.try_emplace(lot.wheels[i]->stamp, apart[i].acts.size());
        CHECK(known->second == apart[i].acts.size());
      }
    }
  }
}
