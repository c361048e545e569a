#include "daemon/round/today.hpp"

#include <random>

#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

std::string TextOf(const rules::Round& round) {
  std::string text;
  for (const rules::RoundSection& section : round.sections) {
    for (const rules::Change change : section.change) text += "=" + std::string(rules::ToText(change));
    text += section.left ? " left" : " done";
    if (section.begun) text += " begun";
    text += "\n";
  }
  for (const rules::Round::Line& line : round.lines) {
    text += std::to_string(line.section) + " " + std::to_string(line.line->place.cave) + line.line->place.shelf;
    for (const rules::CareKind kind : line.line->care->kinds) text += " " + std::string(rules::ToText(kind));
    for (const rules::RoundWheel& wheel : line.line->wheels)
      text += " " + std::to_string(wheel.id) + "/" + std::to_string(wheel.number);
    text += " " + std::string(rules::ToText(line.line->care->state)) + " " + rules::ToText(line.line->care->due) + "\n";
  }
  for (const rules::Round::Ask& ask : round.questions) {
    text += "? " + ask.question->question->text;
    for (const rules::RoundWheel& wheel : ask.question->wheels) text += " " + std::to_string(wheel.id);
    text += "\n";
  }
  return text;
}

class Farm {
 public:
  explicit Farm(unsigned seed) : random_(seed) {
    house.Begin();
    house.Do("enter", InTheBox(PressedWheels(6, NewCave("room"), 30), 27));
    house.Do("enter", InTheBox(PressedWheels(4, Shelf(), 5), 2));
    house.Do("enter", PressedWheels(2, NewCave("counter"), 2));
  }

  int Between(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
  json::object Shelf() {
    json::object where = InCave(1);
    where["shelf"] = "A" + std::to_string(Between(1, 12));
    return where;
  }
  std::vector<std::int64_t> Some() {
    std::vector<std::int64_t> wheels;
    for (const WheelRow* wheel : house.TheBook().Wheels()) {
      if (Between(0, 2) == 0) wheels.push_back(wheel->id);
    }
    if (wheels.empty()) wheels.push_back(house.TheBook().Wheels().front()->id);
    return wheels;
  }

  // Whatever a keeper does in a day.
  void Act() {
    switch (Between(0, 9)) {
      case 0:
        house.Do("move", {{"wheels", Ids(Some())}, {"to", Shelf()}});
        break;
      case 1:
        house.Do("hold", {{"wheels", Ids(Some())}, {"held", Between(0, 1) == 0}, {"why", "to look at"}});
        break;
      case 2:
        if (!last_.empty()) house.Do("undo", {{"of", last_}});
        break;
      case 3:
        house.Do("enter", InTheBox(PressedWheels(Between(1, 3), Shelf(), 6), 3));
        break;
      case 4:
        house.StepTo(house.Now() + std::chrono::hours{Between(1, 40)});
        break;
      case 5:
        if (house.TheBook().Wheels().size() > 5)
          house.Do("gone", {{"wheels", Ids({Some().front()})}, {"how", "eaten"}});
        break;
      default:
        last_ =
            std::string(house.Do("care", Care(Some(), {Between(0, 2) == 0 ? "turn" : "wash"})).at("id").as_string());
    }
    house.StepTo(house.Now() + std::chrono::minutes{Between(1, 90)});
  }

  TempFolder folder;
  Household house{folder / "rind.db", kThursday};

 private:
  std::mt19937 random_;
  std::string last_;
};

TEST_CASE("a round that is kept up to date through whatever keepers do is the one made from the whole book") {
  for (unsigned seed = 1; seed <= 4; ++seed) {
    Farm farm(seed);
    for (int step = 0; step < 40; ++step) {
      farm.Act();
      INFO("seed " << seed << ", step " << step);
      const std::string kept = TextOf(farm.house.TheWatch().TodaysRound().work);
      CHECK(kept == TextOf(RoundAsOf(farm.house.TheBook(), farm.house.Now(), farm.house.TheWatch().ThePace()).work));
    }
  }
}

}  // namespace
}  // namespace rindwatch
