// Promises that hold for every plan, every keeper and every zone.
#include <map>
#include <set>

#include "rules/care/cadence.hpp"
#include "tests/catch.hpp"
#include "tests/rules/care/chance.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

namespace {

constexpr int kWheels = 200;
constexpr int kDays = 60;

Wheel ByChance(Chance& chance, bool away) {
  Wheel wheel{chance.MakePlan(), chance.OneIn(2) ? 0 : chance.Between(0, 30)};
  chance.SetCave(wheel, away);
  wheel.History().entered = wheel.At(NumberOf(wheel.Calendar().turn.DayOf(wheel.History().entered)), 8);
  if (chance.OneIn(2)) wheel.Start(StartKind::kEnteredBox, chance.Between(0, 40), 41);
  if (chance.OneIn(2)) wheel.Answer(chance.OneIn(2) ? "on" : "other", chance.Between(0, kDays));
  if (chance.OneIn(3)) wheel.Change(chance.MakePlan(), chance.Between(31, 50));
  if (chance.OneIn(3)) {
    const int day = chance.Between(1, 50);
    const auto stands_for = chance.OneIn(2) ? std::optional{kWash} : std::nullopt;
    wheel.Agree(chance.OneIn(2) ? kWash : kWipe, day + chance.Between(0, 6), day, stands_for);
  }
  return wheel;
}

template <typename Check>
void ForManyWheels(unsigned seed, bool away, Check check) {
  for (unsigned i = 0; i < kWheels; ++i) {
    Chance chance(seed + i);
    Wheel wheel = ByChance(chance, away);
    INFO("seed " << seed + i);
    check(chance, wheel);
  }
}

// Whatever comes after the instant.
void Forget(WheelHistory& wheel, Instant asked) {
  std::erase_if(wheel.acts, [&](const CareAct& act) { return act.at > asked || act.known_from > asked; });
  std::erase_if(wheel.undos, [&](const UndoAct& undo) { return undo.at > asked; });
  std::erase_if(wheel.starts, [&](const StartEvent& start) { return start.known_from > asked; });
  std::erase_if(wheel.branches, [&](const BranchAnswer& answer) { return answer.at > asked; });
  std::erase_if(wheel.agreed, [&](const AgreedCare& agreed) { return agreed.at > asked; });
  while (wheel.plans.size() > 1 && wheel.plans.back().from > asked) wheel.plans.pop_back();
}

bool IsPending(const CareLine& line) {
  return line.state == CareState::kNotYet || line.state == CareState::kOpen || line.OnRound();
}

bool Contains(const std::vector<CareKind>& kinds, CareKind kind) {
  return std::ranges::find(kinds, kind) != kinds.end();
}

}  // namespace

TEST_CASE("plans by chance are sound") {
  Chance chance(7);
  for (int i = 0; i < 300; ++i) {
    const std::vector<PlanFault> faults = CheckPlan(chance.MakePlan());
    for (const PlanFault& fault : faults) UNSCOPED_INFO(ToText(fault, "plan"));
    CHECK(faults.empty());
  }
}

TEST_CASE("the order of the lines in a history never matters") {
  ForManyWheels(1000, true, [](Chance& chance, Wheel& wheel) {
    chance.Live(wheel, kDays);
    Wheel shuffled = wheel;
    chance.Shuffle(shuffled.History().acts);
    chance.Shuffle(shuffled.History().undos);
    chance.Shuffle(shuffled.History().starts);
    chance.Shuffle(shuffled.History().branches);
    chance.Shuffle(shuffled.Calendar().away);
    for (const int day : {3, 17, 40, kDays}) CHECK(TextOf(wheel.On(day)) == TextOf(shuffled.On(day)));
  });
}

TEST_CASE("every line sent twice counts once") {
  ForManyWheels(2000, true, [](Chance& chance, Wheel& wheel) {
    chance.Live(wheel, kDays);
    Wheel twice = wheel;
    const auto repeat = [](auto& list) {
      const auto copy = list;
      list.insert(list.end(), copy.begin(), copy.end());
    };
    repeat(twice.History().acts);
    repeat(twice.History().undos);
    repeat(twice.History().starts);
    repeat(twice.History().branches);
    repeat(twice.History().agreed);
    for (const int day : {3, 17, 40, kDays}) CHECK(TextOf(wheel.On(day)) == TextOf(twice.On(day)));
  });
}

TEST_CASE("undoing everything is as if nothing had been done, undoing the undos as if nothing had been undone") {
  ForManyWheels(3000, true, [](Chance& chance, Wheel& wheel) {
    const Wheel untouched = wheel;
    chance.Live(wheel, kDays);
    wheel.History().undos.clear();
    const std::string lived = TextOf(wheel.On(kDays + 10, 10));
    std::vector<ActId> undos;
    for (const CareAct& act : std::vector(wheel.History().acts)) undos.push_back(wheel.Undo(act.id, kDays + 10, 11));
    CHECK(TextOf(wheel.On(kDays + 10, 12)) == TextOf(untouched.On(kDays + 10, 12)));
    for (const ActId& undo : undos) wheel.Undo(undo, kDays + 10, 13);
    Wheel redone = wheel;
    redone.History().undos.clear();
    CHECK(TextOf(wheel.On(kDays + 10, 14)) == TextOf(redone.On(kDays + 10, 14)));
    CHECK(TextOf(wheel.On(kDays + 10, 10)) == lived);
  });
}

TEST_CASE("what comes later changes nothing that was said before") {
  ForManyWheels(4000, true, [](Chance& chance, Wheel& wheel) {
    chance.Live(wheel, kDays);
    for (const int day : {5, 23, 41}) {
      Wheel then = wheel;
      Forget(then.History(), wheel.At(day, 12));
      CHECK(TextOf(then.On(day)) == TextOf(wheel.On(day)));
    }
  });
}

TEST_CASE("nothing is due before it is") {
  ForManyWheels(5000, true, [](Chance& chance, Wheel& wheel) {
    chance.Live(wheel, kDays);
    const Date entry = wheel.Calendar().turn.DayOf(wheel.History().entered);
    for (int day = 0; day <= kDays; day += chance.Between(1, 4)) {
      const Instant asked = wheel.At(day, chance.Between(4, 27));
      const Date today = wheel.Calendar().turn.DayOf(asked);
      for (const CareLine& line : ScheduleAt(wheel.History(), wheel.Calendar(), asked).lines) {
        INFO(ToText(asked) << ' ' << TextOf(line));
        if (IsPending(line)) CHECK(line.due >= entry);
        if (!line.OnRound()) continue;
        CHECK(line.due <= today);
        if (line.not_before) CHECK(asked >= *line.not_before);
        const bool past_window = today > line.window_end;
        CHECK((line.state == CareState::kLate) <= past_window);
        CHECK(line.late_since.has_value() == (line.state == CareState::kLate));
      }
    }
  });
}

TEST_CASE("without an act a care only ever gets more urgent while its stage lasts") {
  ForManyWheels(6000, false, [](Chance& chance, Wheel& wheel) {
    chance.Live(wheel, 20);
    std::map<const Care*, CareLine> before;
    const Stage* stage = nullptr;
    for (int day = 27; day <= 80; ++day) {
      const Schedule schedule = wheel.On(day);
      if (schedule.standing.stage != stage || schedule.standing.day == 0) before.clear();
      stage = schedule.standing.stage;
      std::map<const Care*, CareLine> now;
      for (const CareLine& line : schedule.lines) {
        if (!line.care || !IsPending(line) || std::holds_alternative<MorningAndEvening>(line.care->cadence)) continue;
        if (const auto was = before.find(line.care); was != before.end() && line.kinds == was->second.kinds) {
          INFO("day " << day << ": " << TextOf(was->second) << " -> " << TextOf(line));
          CHECK(line.state >= was->second.state);
        }
        now.emplace(line.care, line);
      }
      before = std::move(now);
    }
  });
}

TEST_CASE("nothing is forgotten: a care that nobody does is late before two of its intervals have passed") {
  ForManyWheels(7000, false, [](Chance& chance, Wheel& wheel) {
    chance.Live(wheel, 20);
    wheel.History().agreed.clear();
    const Schedule schedule = wheel.On(120);
    if (!schedule.standing.stage) return;
    const bool since_long = wheel.On(60).standing.stage == schedule.standing.stage;
    for (const Care& care : schedule.standing.stage->cares) {
      if (!since_long || std::holds_alternative<OnceOnDay>(care.cadence)) continue;
      const bool late = std::ranges::any_of(schedule.lines, [&](const CareLine& line) {
        return line.state == CareState::kLate &&
               std::ranges::any_of(care.kinds, [&](CareKind kind) { return Contains(line.kinds, kind); });
      });
      INFO(ToText(care.kinds[0]));
      CHECK(late);
    }
  });
}

TEST_CASE("what a keeper ticks off leaves the round, except the evening's turn") {
  ForManyWheels(8000, true, [](Chance& chance, Wheel& wheel) {
    for (int day = 0; day <= kDays; day += chance.Between(1, 3)) {
      const Schedule before = wheel.On(day, 12);
      std::vector<CareKind> kinds;
      for (const CareLine& line : before.lines) {
        if (line.OnRound()) kinds.insert(kinds.end(), line.kinds.begin(), line.kinds.end());
      }
      if (kinds.empty()) continue;
      wheel.Do(day, kinds, 12, 1);
      for (const CareLine& line : wheel.On(day, 12, 2).lines) {
        INFO("day " << day << ' ' << TextOf(line));
        CHECK(!line.OnRound());
      }
    }
  });
}

TEST_CASE("the perfect keeper is never late") {
  for (unsigned seed = 9000; seed < 9000 + kWheels; ++seed) {
    INFO("seed " << seed);
    Chance chance(seed);
    Wheel wheel{chance.MakePlan(), 0};
    chance.SetCave(wheel, false, true);
    wheel.History().entered = wheel.At(0, 5);
    for (int day = 0; day <= 50; ++day) {
      for (const int hour : {7, 19}) {
        const Schedule schedule = wheel.On(day, hour);
        std::vector<CareKind> kinds;
        for (const CareLine& line : schedule.lines) {
          INFO("day " << day << ' ' << TextOf(line));
          CHECK(line.state != CareState::kLate);
          CHECK(line.state != CareState::kRetired);
          // What waits for a care day can be overtaken by the start of the next part.
          if (wheel.Calendar().care_days.empty()) CHECK(line.state != CareState::kNotDone);
          if (line.OnRound()) kinds.insert(kinds.end(), line.kinds.begin(), line.kinds.end());
        }
        if (!kinds.empty()) wheel.Do(day, kinds, hour);
        for (const Question& question : schedule.questions) {
          if (question.kind == Question::Kind::kStart) wheel.Start(question.start, day, day, hour);
        }
      }
    }
  }
}

TEST_CASE("looking ahead is the perfect keeper's doing") {
  for (unsigned seed = 9500; seed < 9540; ++seed) {
    INFO("seed " << seed);
    Chance chance(seed);
    Wheel wheel = ByChance(chance, true);
    chance.Live(wheel, 15);
    const Instant from = wheel.At(16, 5);
    Forget(wheel.History(), from);
    std::vector<Ahead> expected;
    Wheel lived = wheel;
    for (int day = 16; day < 16 + 30; ++day) {
      if (std::ranges::count(lived.Calendar().away, Day(day)) > 0) continue;  // nobody comes
      Ahead ahead{Day(day), {}};
      for (const int hour : {7, 19}) {
        const Schedule schedule = lived.On(day, hour);
        std::vector<CareKind> kinds;
        for (const CareLine& line : schedule.lines) {
          for (const CareKind kind : line.kinds) {
            if (line.OnRound() && !Contains(line.done_kinds, kind) && !Contains(kinds, kind)) kinds.push_back(kind);
          }
        }
        if (!kinds.empty()) lived.Do(day, kinds, hour);
        ahead.kinds.insert(ahead.kinds.end(), kinds.begin(), kinds.end());
        for (const Question& question : schedule.questions) {
          if (question.kind == Question::Kind::kStart) {
            lived.Start(question.start, day, day, hour);
          } else {
            lived.Answer(schedule.standing.branch_option, day, hour);
          }
        }
      }
      if (!ahead.kinds.empty()) expected.push_back(ahead);
    }
    const std::vector<Ahead> found = LookAhead(wheel.History(), wheel.Calendar(), from, 30);
    REQUIRE(found.size() == expected.size());
    for (std::size_t i = 0; i < found.size(); ++i) {
      CHECK(found[i].day == expected[i].day);
      CHECK(found[i].kinds == expected[i].kinds);
    }
  }
}

TEST_CASE("before the next change nothing comes on the round that is not on it today") {
  ForManyWheels(9700, true, [](Chance& chance, Wheel& wheel) {
    chance.Live(wheel, 20);
    wheel.History().undos.clear();
    Forget(wheel.History(), wheel.At(24, 12));
    const Schedule asked = wheel.On(24);
    const int change = asked.next_change ? std::min(NumberOf(*asked.next_change), 80) : 80;
    const auto on_round = [](const Schedule& schedule) {
      std::set<CareKind> kinds;
      for (const CareLine& line : schedule.lines) {
        if (line.OnRound()) kinds.insert(line.kinds.begin(), line.kinds.end());
      }
      return kinds;
    };
    const std::set<CareKind> today = on_round(asked);
    for (int day = 25; day < change; ++day) {
      INFO("day " << day << " of " << change);
      const Schedule schedule = wheel.On(day);
      CHECK(std::ranges::includes(today, on_round(schedule)));
      CHECK(schedule.questions.size() <= asked.questions.size());
    }
  });
}

TEST_CASE("a schedule holds as long as it says") {
  ForManyWheels(9800, true, [](Chance& chance, Wheel& wheel) {
    chance.Live(wheel, kDays);
    if (chance.OneIn(3)) wheel.History().gone = wheel.At(chance.Between(20, 50), 11);
    for (int day = 0; day <= kDays; day += chance.Between(1, 5)) {
      const Instant asked = wheel.At(day, chance.Between(4, 27), chance.Between(0, 59));
      const Schedule schedule = ScheduleAt(wheel.History(), wheel.Calendar(), asked);
      REQUIRE(schedule.holds_until > asked);
      const auto length = (schedule.holds_until - asked).count();
      for (const Instant at :
           {asked + Millis{chance.Between(0, static_cast<int>(length) - 1)}, schedule.holds_until - Millis{1}}) {
        INFO(ToText(asked) << " and " << ToText(at));
        CHECK(TextOf(ScheduleAt(wheel.History(), wheel.Calendar(), at)) == TextOf(schedule));
      }
    }
  });
}

TEST_CASE("the perfect keeper's doings are as many as the cadence says, in every zone and from every hour") {
  for (unsigned seed = 9900; seed < 9960; ++seed) {
    INFO("seed " << seed);
    Chance chance(seed);
    const int times = chance.Between(1, 7), every = chance.Between(1, 12);
    Wheel wheel{Always({AWeek(times, {kWash}), Every(every, {kTurn}), TwiceADay(kBrush)})};
    wheel.Calendar().turn = {chance.MakeZone(true), chance.Between(0, 5)};
    wheel.Enter(0, 5);
    std::vector<int> washes, turns, brushes;
    for (const Ahead& ahead : LookAhead(wheel.History(), wheel.Calendar(), wheel.At(0, 6), 1 + 7 * 20)) {
      for (const CareKind kind : ahead.kinds) {
        (kind == kWash ? washes : kind == kTurn ? turns : brushes).push_back(NumberOf(ahead.day));
      }
    }
    INFO(times << " a week, every " << every << " days");
    REQUIRE(!washes.empty());
    CHECK(washes.front() == 1);
    for (int week = 0; week < 20; ++week) {
      const auto in_week = [&](int day) { return day > 7 * week && day <= 7 * (week + 1); };
      CHECK(std::ranges::count_if(washes, in_week) == times);
      CHECK(std::ranges::count_if(brushes, in_week) == 14);
    }
    for (std::size_t i = 0; i < turns.size(); ++i) CHECK(turns[i] == 1 + static_cast<int>(i) * every);
  }
}

TEST_CASE("a leap day is a day like any other") {
  Wheel wheel{Always({Every(2, {kTurn})})};
  wheel.History().starts[0].day = MakeDate(2028, 2, 27);
  wheel.History().entered = Instant{(MakeDate(2028, 2, 27) + hours{8}).time_since_epoch()};
  wheel.History().plans[0].from = wheel.History().entered;
  const auto noon = [](Date date) { return Instant{(date + hours{12}).time_since_epoch()}; };
  std::vector<Date> done;
  for (Date day = MakeDate(2028, 2, 27); day <= MakeDate(2028, 3, 5); day += days{1}) {
    const Schedule schedule = ScheduleAt(wheel.History(), wheel.Calendar(), noon(day));
    if (!Pending(schedule, kTurn)->OnRound()) continue;
    wheel.Act(noon(day), {kTurn}, {});
    done.push_back(day);
  }
  CHECK(done == std::vector{MakeDate(2028, 2, 28), MakeDate(2028, 3, 1), MakeDate(2028, 3, 3), MakeDate(2028, 3, 5)});
}
