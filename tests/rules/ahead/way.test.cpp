#include "rules/ahead/way.hpp"

#include <algorithm>
#include <cstdlib>

#include "rules/ahead/ready.hpp"
#include "rules/plans/plan.hpp"
#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

namespace {

std::vector<WayStage> Way(const Wheel& wheel, int day) {
  return WayOf(wheel.History(), wheel.Calendar(), wheel.At(day, 12));
}

// "drying 0 to 1, fur 2 to 20": the days of each stage; "*" begins on the keeper's word.
std::string Told(const std::vector<WayStage>& way) {
  std::string told;
  for (const WayStage& stage : way) {
    if (!told.empty()) told += ", ";
    told += stage.stage->name + (stage.on_word ? "* " : " ") + std::to_string(NumberOf(stage.from));
    told += stage.to ? " to " + std::to_string(NumberOf(*stage.to)) : " on";
  }
  return told;
}

// Does every line that is on the round and answers every question, at seven in the morning and in the evening.
void Live(Wheel& wheel, int day) {
  for (const int hour : {7, 19}) {
    const auto schedule = ScheduleAt(wheel.History(), wheel.Calendar(), wheel.At(day, hour));
    for (const CareLine& line : schedule.lines) {
      if (line.OnRound()) wheel.Do(day, WholeOf(line), hour);
    }
    for (const Question& question : ScheduleAt(wheel.History(), wheel.Calendar(), wheel.At(day, hour, 1)).questions) {
      if (question.kind == Question::Kind::kStart) wheel.Start(question.start, day);
    }
  }
}

const WayStage* On(const std::vector<WayStage>& way, Date day) {
  for (const WayStage& stage : way) {
    if (stage.from <= day && (!stage.to || day <= *stage.to)) return &stage;
  }
  return nullptr;
}

}  // namespace

TEST_CASE("a day 0 belongs to the part that it begins, so that no day is missing between two stages") {
  Wheel wheel{WithPart(PlanOf({StageOf(1, 3, {})}), StartKind::kDry, 2, {StageOf(1, 9, {}), StageOf(10, 30, {})})};
  CHECK(Told(Way(wheel, 1)) == "from 1 0 to 1, from 1* 2 to 11, from 10 12 to 32");
  wheel.Start(StartKind::kDry, 3);
  CHECK(Told(Way(wheel, 5)) == "from 1 0 to 2, from 1 3 to 12, from 10 13 to 33");
}

TEST_CASE("a part that nobody began lies ahead, however late it is") {
  const Wheel wheel{WithPart(PlanOf({StageOf(1, 3, {})}), StartKind::kDry, 2, {StageOf(1, std::nullopt, {})})};
  CHECK(Told(Way(wheel, 20)) == "from 1 0 to 20, from 1* 21 on");
}

TEST_CASE("a part that a care begins comes on the day on which the care is due") {
  Plan plan = PlanOf({StageOf(1, 5, {Every(1, {kTurn})}), StageOf(6, 14, {Once(12, kWrap)})});
  plan = WithPart(std::move(plan), StartKind::kWrapped, 0, {StageOf(1, 9, {Every(2, {kTurn})})});
  plan.parts.back().question.clear();
  plan.parts.back().usual_days = Figure{10, 14, "invented"};
  Wheel wheel{plan};
  CHECK(Told(Way(wheel, 3)) == "from 1 0 to 5, from 6 6 to 11, from 1 12 to 21");
  CHECK(Told(Way(wheel, 12)) == "from 1 0 to 5, from 6 6 to 12, from 1 13 to 22");
  wheel.Do(11, {kWrap});
  CHECK(Told(Way(wheel, 12)) == "from 1 0 to 5, from 6 6 to 10, from 1 11 to 20");
}

TEST_CASE("what was lived through under another plan stays as it was lived") {
  Wheel wheel{PlanOf({StageOf(1, 9, {}), StageOf(10, 40, {})})};
  Plan other = PlanOf({StageOf(1, 14, {}), StageOf(15, 29, {}), StageOf(30, std::nullopt, {})});
  other.id = "other";
  wheel.Change(std::move(other), 20);
  CHECK(Told(Way(wheel, 25)) == "from 1 0 to 9, from 10 10 to 19, from 15 20 to 29, from 30 30 on");
}

TEST_CASE("a new version of a plan does not cut the stage that it does not move") {
  Wheel wheel{PlanOf({StageOf(1, 9, {}), StageOf(10, 40, {})})};
  Plan next = PlanOf({StageOf(1, 9, {}), StageOf(10, 30, {Every(3, {kTurn})})});
  next.version = 2;
  wheel.Change(std::move(next), 20);
  CHECK(Told(Way(wheel, 25)) == "from 1 0 to 9, from 10 10 to 30");
}

TEST_CASE("the last stage has no end once the wheel has outlived it") {
  const Wheel wheel{PlanOf({StageOf(1, 9, {}), StageOf(10, 20, {})})};
  CHECK(Told(Way(wheel, 20)) == "from 1 0 to 9, from 10 10 to 20");
  CHECK(Told(Way(wheel, 21)) == "from 1 0 to 9, from 10 10 on");
}

TEST_CASE("of every plan of the library the way is what a keeper lives who is never late, and holds where it stands") {
  for (const Plan& plan : PlanLibrary()) {
    INFO(plan.id);
    Wheel wheel{plan};
    std::string foretold;
    for (int day = 0; day <= 130; ++day) {
      INFO("day " << day);
      Live(wheel, day);
      const auto way = Way(wheel, day);
      const Standing standing = StandingAt(wheel.History(), wheel.Calendar(), wheel.At(day, 12));
      const WayStage* now = On(way, Day(day));
      REQUIRE(now);
      CHECK(now->stage == standing.stage);
      for (std::size_t i = 1; i < way.size(); ++i) CHECK(way[i].from == *way[i - 1].to + days{1});
      if (day == 1) foretold = Told(way);
      if (day > 1) {
        // Stars stand only at what is still to come.
        std::string then = Told(way), before = foretold;
        std::erase(then, '*');
        std::erase(before, '*');
        if (!standing.past_plan) CHECK(then == before);
      }
    }
  }
}

TEST_CASE("of every plan of the library the stage called ready begins on the day on which the window opens") {
  // Where they lie further apart they mean different things: eaten from the one day on, best from the other.
  constexpr int kMeantAlike = 3;
  for (const Plan& plan : PlanLibrary()) {
    INFO(plan.id);
    const Wheel wheel{plan};
    const auto windows = ReadyWindowsOf(wheel.History(), wheel.Calendar(), wheel.At(1, 12));
    REQUIRE_FALSE(windows.empty());
    const auto way = Way(wheel, 1);
    const auto ready = std::ranges::find(way, WheelState::kReady, [](const WayStage& at) { return at.stage->state; });
    if (ready == way.end() || std::abs((ready->from - windows[0].from).count()) > kMeantAlike) continue;
    CHECK(NumberOf(ready->from) == NumberOf(windows[0].from));
  }
}
