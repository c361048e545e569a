#include "daemon/round/today.hpp"

#include <cstdlib>
#include <random>

#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

unsigned Seeds() {
  const char* more = std::getenv("RINDWATCH_SEEDS");
  return more ? static_cast<unsigned>(std::atoi(more)) : 12;
}

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
    text += " " + std::string(rules::ToText(line.line->care->state)) + " " + rules::ToText(line.line->care->due);
    if (line.line->marked) text += " marked";
    if (line.line->held) text += " held";
    text += "\n";
  }
  for (const rules::Round::Ask& ask : round.questions) {
    text += std::to_string(ask.section) + " ? " + ask.question->question->text;
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

  // Whatever keepers do in a day; then some time goes by, often none that a clock shows.
  void Act() {
    switch (Between(0, 13)) {
      case 0:
        Do("move", {{"wheels", Ids(Some())}, {"to", Shelf()}});
        break;
      case 1:
        Do("hold", {{"wheels", Ids(Some())}, {"held", Between(0, 1) == 0}, {"why", "to look at"}});
        break;
      case 2:
      case 3:
        if (!done_.empty()) Do("undo", {{"of", done_[Chosen(done_.size())]}});
        break;
      case 4:
        house.Do("enter", InTheBox(PressedWheels(Between(1, 3), Shelf(), 6), 3));
        break;
      case 5:
        house.StepTo(house.Now() + std::chrono::hours{Between(1, 40)});
        break;
      case 6:
        if (house.TheBook().Wheels().size() > 5)
          house.Do("gone", {{"wheels", Ids({Some().front()})}, {"how", "eaten"}});
        break;
      case 7:
        Find();
        break;
      case 8:
        PutOff();
        break;
      case 9:
        Do("care", Skipping());
        break;
      default:
        Do("care", Care(Some(), {Between(0, 2) == 0 ? "turn" : "wash"}));
    }
    if (Between(0, 2) != 0) house.StepTo(house.Now() + std::chrono::seconds{Between(1, 90)});
    if (Between(0, 2) == 0) house.StepTo(house.Now() + std::chrono::minutes{Between(1, 90)});
  }

  TempFolder folder;
  Household house{folder / "rind.db", kThursday};

 private:
  std::size_t Chosen(std::size_t count) { return static_cast<std::size_t>(Between(0, static_cast<int>(count) - 1)); }
  void Do(const char* kind, json::object act) {
    done_.emplace_back(house.Do(kind, std::move(act)).at("id").as_string());
  }

  void Find() {
    const std::vector<std::int64_t> wheels = Some();
    const char* what = Between(0, 1) == 0 ? "slime" : "mite dust";
    Do("fault", {{"what", what}, {"wheels", Ids(wheels)}, {"of", wheels.size()}, {"agreed", Between(0, 1) == 0}});
  }

  // One of the round's questions until tomorrow, for some of its wheels.
  void PutOff() {
    const auto& questions = house.TheWatch().TodaysRound().work.questions;
    if (questions.empty()) return;
    const rules::RoundQuestion& asked = *questions[Chosen(questions.size())].question;
    std::vector<std::int64_t> wheels;
    for (const rules::RoundWheel& wheel : asked.wheels) {
      if (wheels.empty() || Between(0, 3) > 0) wheels.push_back(wheel.id);
    }
    Do("later",
       {{"wheels", Ids(wheels)}, {"question", asked.question->text}, {"start", rules::ToText(asked.question->start)}});
  }

  json::object Skipping() {
    json::object care = Care(Some(), {});
    care["skipped"] = json::array{"wash"};
    care["reason"] = "rind wet";
    return care;
  }

  std::mt19937 random_;
  std::vector<std::string> done_;
};

TEST_CASE("a round that is kept up to date through whatever keepers do is the one made from the whole book") {
  for (unsigned seed = 1; seed <= Seeds(); ++seed) {
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
