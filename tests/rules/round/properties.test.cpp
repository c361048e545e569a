#include <cstdlib>
#include <map>
#include <set>

#include "rules/round/bring.hpp"
#include "rules/round/round.hpp"
#include "rules/round/sections.hpp"
#include "tests/catch.hpp"
#include "tests/rules/care/chance.hpp"
#include "tests/rules/round/scene.hpp"

namespace rindwatch::rules {
namespace {

using namespace testing;

unsigned Seeds() {
  const char* more = std::getenv("RINDWATCH_SEEDS");
  return more ? static_cast<unsigned>(std::atoi(more)) : 60;
}

// Lives by chance: plans of all four rinds, keepers who come or do not; wheels on boards of three caves, some marked.
class Cellar {
 public:
  explicit Cellar(unsigned seed) : chance_(seed) {
    for (int i = chance_.Between(1, 6); i > 0; --i) AddLife();
    for (int i = chance_.Between(1, 25); i > 0; --i) groups.push_back(MakeGroup());
  }

  RoundGroup MakeGroup() {
    std::vector<WheelId> wheels;
    for (int i = chance_.Between(1, 9); i > 0; --i) wheels.push_back(++wheels_);
    RoundGroup group =
        GroupOf(chance_.Between(1, 3), chance_.OneIn(3) ? "" : "A" + std::to_string(chance_.Between(1, 4)),
                chance_.OneOf(lives_), std::move(wheels), chance_.Between(0, 40) * 1000);
    group.lot = chance_.Between(1, 4);
    group.held = chance_.OneIn(12);
    if (chance_.OneIn(5)) group.mark = static_cast<FaultKind>(chance_.Between(0, 8));
    return group;
  }

  Chance& TheChance() { return chance_; }
  std::vector<RoundGroup> groups;
  static constexpr int kToday = 40;

 private:
  void AddLife() {
    Plan plan = chance_.MakePlan();
    plan.rind = static_cast<RindClass>(chance_.Between(0, 3));
    for (Part& part : plan.parts) {
      for (Stage& stage : part.stages) {
        for (Care& care : stage.cares) {
          if (care.kinds.front() == kWash && chance_.OneIn(2)) care = WithRecipe(care, chance_.Between(2, 6));
        }
      }
    }
    Wheel wheel(std::move(plan), chance_.Between(0, 30));
    chance_.Live(wheel, kToday);
    lives_.push_back(std::make_shared<const Schedule>(wheel.On(kToday, chance_.Between(5, 22))));
  }

  Chance chance_;
  WheelId wheels_ = 0;
  std::vector<std::shared_ptr<const Schedule>> lives_;
};

// All that a round says.
std::string WholeOf(const Round& round) {
  std::string text = TextOf(round) + std::to_string(round.Minutes()) + "\n";
  for (const Round::Line& at : round.lines) {
    const RoundLine& line = *at.line;
    text += std::to_string(line.lot) + " " + ToText(line.care->due) + " " + std::to_string(line.seconds);
    if (line.mark) text += " " + std::string(ToText(*line.mark));
    if (line.held) text += " held";
    if (line.marked) text += " marked";
    if (line.two_people) text += " by two";
    for (const LookFirst look : line.look_first) text += " " + std::string(ToText(look));
    text += "\n";
  }
  for (const RoundSection& section : round.sections) {
    text += std::to_string(section.left) + std::to_string(section.begun) + std::to_string(section.seconds.count());
    if (section.wash) text += " " + std::to_string(section.wash->salt.low);
    text += "\n";
  }
  return text;
}

TEST_CASE("wheels in any order give the same round") {
  for (unsigned seed = 1; seed <= Seeds(); ++seed) {
    Cellar cellar(seed);
    const std::string round = WholeOf(MakeRound(Day(Cellar::kToday), {}, cellar.groups));
    cellar.TheChance().Shuffle(cellar.groups);
    for (RoundGroup& group : cellar.groups) cellar.TheChance().Shuffle(group.wheels);
    INFO("seed " << seed);
    CHECK(WholeOf(MakeRound(Day(Cellar::kToday), {}, cellar.groups)) == round);
  }
}

TEST_CASE("a round that is kept up to date is the round made from scratch") {
  for (unsigned seed = 1; seed <= Seeds(); ++seed) {
    Cellar cellar(seed);
    Chance& chance = cellar.TheChance();
    RoundMaker maker(Day(Cellar::kToday), {});
    std::map<GroupId, RoundGroup> there;
    for (int step = 0; step < 30; ++step) {
      const auto id = static_cast<GroupId>(chance.Between(0, 12));
      if (chance.OneIn(4)) {
        maker.Drop(id);
        there.erase(id);
      } else {
        there[id] = cellar.MakeGroup();
        maker.Put(id, there[id]);
      }
      if (!chance.OneIn(3)) continue;
      std::vector<RoundGroup> groups;
      for (const auto& [number, group] : there) groups.push_back(group);
      INFO("seed " << seed << ", step " << step);
      CHECK(WholeOf(maker.Make()) == WholeOf(MakeRound(Day(Cellar::kToday), {}, groups)));
    }
  }
}

TEST_CASE("no wheel stands twice for one care, and none is left out") {
  for (unsigned seed = 1; seed <= Seeds(); ++seed) {
    const Cellar cellar(seed);
    const Round round = MakeRound(Day(Cellar::kToday), {}, cellar.groups);
    std::set<std::pair<WheelId, const CareLine*>> seen;
    std::map<WheelId, std::size_t> lines, asked;
    for (const Round::Line& line : round.lines) {
      for (const RoundWheel& wheel : line.line->wheels) {
        CHECK(seen.emplace(wheel.id, line.line->care).second);
        if (line.line->care->OnRound()) ++lines[wheel.id];
      }
    }
    for (const RoundGroup& group : cellar.groups) {
      const auto due = std::ranges::count_if(group.schedule->lines, &CareLine::OnRound);
      for (const RoundWheel& wheel : group.wheels) asked[wheel.id] = static_cast<std::size_t>(due);
    }
    std::erase_if(asked, [](const auto& entry) { return entry.second == 0; });
    INFO("seed " << seed);
    CHECK(lines == asked);
  }
}

TEST_CASE("one wash liquid stays with one age group, and never follows older wheels under the same gloves") {
  int washes = 0;
  for (unsigned seed = 1; seed <= Seeds(); ++seed) {
    const Cellar cellar(seed);
    const Round round = MakeRound(Day(Cellar::kToday), {seed % 2 == 0, {}}, cellar.groups);
    std::map<std::size_t, std::set<int>> groups;
    int oldest = 0;
    std::size_t section = 0;
    for (const Round::Line& line : round.lines) {
      for (; section < line.section; ++section) {
        const auto& change = round.sections[section + 1].change;
        if (std::ranges::find(change, Change::kGloves) != change.end()) oldest = 0;
      }
      INFO("seed " << seed);
      if (WashOf(*line.line)) {
        groups[line.section].insert(line.line->age_group);
        CHECK(line.line->age_group >= oldest);
        ++washes;
      }
      oldest = std::max(oldest, line.line->age_group);
    }
    for (const auto& [number, ages] : groups) CHECK(ages.size() == 1);
    for (const BringWash& wash : BringFor(round).washes) CHECK(wash.mixing.total.value >= 100 - 1e-9);
  }
  CHECK(washes > 0);
}

// Of a walk: on what each cloth is used, in order.
std::vector<std::vector<const RoundLine*>> ClothsOf(const Round& round) {
  std::vector<std::vector<const RoundLine*>> cloths(1);
  std::size_t section = 0;
  for (const Round::Line& at : round.lines) {
    for (; section < at.section; ++section) {
      if (std::ranges::count(round.sections[section + 1].change, Change::kCloth) > 0) cloths.emplace_back();
    }
    const bool touched = at.line->care->OnRound() || at.line->care->Settled();
    if (touched && UsesCloth(*at.line->care)) cloths.back().push_back(at.line.get());
  }
  return cloths;
}

void CheckCloths(const Round& round) {
  const auto cloths = ClothsOf(round);
  int for_what_is_left = 0;
  for (const auto& cloth : cloths) {
    // One that is laid down was used.
    if (cloths.size() > 1) CHECK_FALSE(cloth.empty());
    for (std::size_t i = 1; i < cloth.size(); ++i) {
      const RoundLine &before = *cloth[i - 1], &line = *cloth[i];
      CHECK(line.age_group >= before.age_group);
      CHECK(line.Rind() == before.Rind());
      CHECK(line.marked == before.marked);
      if (line.marked) CHECK(line.mark == before.mark);
    }
    const auto is_left = [](const RoundLine* line) { return line->care->OnRound(); };
    for_what_is_left += std::ranges::any_of(cloth, is_left) ? 1 : 0;
  }
  CHECK(BringFor(round).cloths == for_what_is_left);
}

// Wheels of two rinds and all ages, for each of which something is due today.
std::vector<RoundGroup> AllDue(Chance& chance) {
  constexpr CareKind kKinds[] = {kWash, kPat, CareKind::kRub, CareKind::kWipe, CareKind::kOil, kTurn, kBrush};
  std::vector<RoundGroup> groups;
  for (int i = chance.Between(1, 20); i > 0; --i) {
    Care care = Every(1, {kKinds[chance.Between(0, 6)]});
    if (care.kinds.front() == kWash) care = WithRecipe(care, chance.Between(3, 4));
    const auto plan = RoundPlan(chance.OneIn(2) ? RindClass::kWashed : RindClass::kNaturalAndPressed, {care});
    groups.push_back(GroupOf(chance.Between(1, 3), "A" + std::to_string(chance.Between(1, 3)),
                             LifeOn(0, plan, -chance.Between(1, 90)), {i}));
    groups.back().held = chance.OneIn(10);
    if (chance.OneIn(10)) groups.back().mark = FaultKind::kSlime;
  }
  return groups;
}

TEST_CASE("no cloth goes from old to young, to another rind or away from a mark; each is brought") {
  int alone = 0;
  for (unsigned seed = 1; seed <= Seeds(); ++seed) {
    const bool by_room = seed % 2 == 0;
    const Cellar cellar(seed);
    Chance chance(seed);
    INFO("seed " << seed);
    CheckCloths(MakeRound(Day(Cellar::kToday), {by_room, {}}, cellar.groups));
    const Round round = MakeRound(Day(0), {by_room, {}}, AllDue(chance));
    CheckCloths(round);
    int changes = 0;
    for (const RoundSection& section : round.sections) {
      changes += static_cast<int>(std::ranges::count(section.change, Change::kCloth));
      alone += section.change == std::vector{Change::kCloth} ? 1 : 0;
    }
    const int cloths = BringFor(round).cloths;
    CHECK(cloths == (cloths == 0 ? 0 : changes + 1));
  }
  CHECK(alone > 0);  // gloves stay on
}

TEST_CASE("the minutes of a round are at least those that are shown, with the changes to come") {
  for (unsigned seed = 1; seed <= Seeds(); ++seed) {
    const Cellar cellar(seed);
    const Round round = MakeRound(Day(Cellar::kToday), {}, cellar.groups);
    int shown = 0;
    double seconds = 0;
    for (const Round::Line& at : round.lines) {
      if (!at.line->care->OnRound()) continue;
      shown += ShownMinutes(at.line->seconds);
      seconds += at.line->seconds;
    }
    for (const RoundSection& section : round.sections) {
      if (!section.left || section.begun) continue;
      shown += ShownMinutes(static_cast<double>(section.seconds.count()));
      seconds += static_cast<double>(section.seconds.count());
    }
    INFO("seed " << seed);
    CHECK(round.Minutes() >= shown);
    CHECK((round.Minutes() > 0) == (seconds > 0));
    CHECK(std::abs(round.Minutes() - seconds / 60) <= 0.5 * static_cast<double>(round.lines.size() + 1));
  }
}

TEST_CASE("marked wheels come after all others, and rinds after each other") {
  for (unsigned seed = 1; seed <= Seeds(); ++seed) {
    const Cellar cellar(seed);
    const Round round = MakeRound(Day(Cellar::kToday), {}, cellar.groups);
    bool marked = false;
    RindClass rind = RindClass::kFreshAndWhite;
    for (const Round::Line& line : round.lines) {
      INFO("seed " << seed);
      CHECK(line.line->marked >= marked);
      if (!line.line->marked) CHECK(line.line->Rind() >= rind);
      marked = line.line->marked;
      rind = line.line->Rind();
    }
  }
}

}  // namespace
}  // namespace rindwatch::rules
