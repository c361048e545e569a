#include "tests/rules/care/model_keepers.hpp"

namespace rindwatch::rules::testing {
namespace {

// Of ten lines on the round how many are ...
struct Habits {
  int done = 10, skipped = 0;
  int early = 0;                              // of ten open ones
  int partly = 0;                             // of ten lines that bring another care, turned but not washed
  int away_from = 0;                          // a week in which nobody comes
  int noted_late = 0, undone = 0, twice = 0;  // of ten acts
  int visits = 10;                            // of ten days
};

Habits HabitsByChance(Chance& chance) {
  switch (chance.Between(0, 6)) {
    case 0:  // perfect
      return {};
    case 1:  // comes when it pleases him
      return {.done = 8, .skipped = 1, .visits = 4};
    case 2:  // early
      return {.done = 10, .early = 7};
    case 3:  // gone for a week, unannounced
      return {.done = 10, .away_from = chance.Between(5, 45)};
    case 4:  // sloppy
      return {.done = 5, .skipped = 2, .early = 1, .partly = 5, .noted_late = 3, .undone = 2, .twice = 2, .visits = 7};
    case 5:  // notes everything late
      return {.done = 9, .skipped = 1, .noted_late = 9, .undone = 1};
    default:  // a wet rind
      return {.done = 5, .skipped = 5, .early = 1, .partly = 6, .twice = 1};
  }
}

bool Of10(Chance& chance, int n) { return chance.Between(1, 10) <= n; }

// Does and skips of what the schedule shows.
void Visit(Chance& chance, Wheel& wheel, const Habits& habits, int day, int hour) {
  const Instant at = wheel.At(day, hour, chance.Between(0, 59));
  std::vector<CareKind> done, skipped;
  for (const CareLine& line : ScheduleAt(wheel.History(), wheel.Calendar(), at).lines) {
    if (line.state == CareState::kOpen && Of10(chance, habits.early)) done.push_back(line.kinds.front());
    if (!line.OnRound()) continue;
    if (line.kinds.size() > 1 && Of10(chance, habits.partly)) {
      done.insert(done.end(), line.kinds.begin() + 1, line.kinds.end());
      if (chance.OneIn(2)) skipped.push_back(line.kinds.front());
    } else if (Of10(chance, habits.done)) {
      done.push_back(line.kinds.front());
    } else if (Of10(chance, habits.skipped * 2)) {
      skipped.push_back(line.kinds.front());
    }
  }
  std::erase_if(skipped, [&](CareKind kind) { return std::ranges::count(done, kind) > 0; });
  if (done.empty() && skipped.empty()) return;
  const ActId id = wheel.Act(at, done, skipped);
  CareAct& act = wheel.History().acts.back();
  if (Of10(chance, habits.noted_late)) act.known_from = wheel.At(day + chance.Between(0, 4), 23);
  if (act.known_from < act.at) act.known_from = act.at;
  if (Of10(chance, habits.undone)) {
    const ActId undo = wheel.Undo(id, day + chance.Between(0, 3), 23);
    if (chance.OneIn(3)) wheel.Undo(undo, day + chance.Between(3, 6), 24);
  }
  if (Of10(chance, habits.twice)) wheel.Act(at + minutes{chance.Between(0, 2) * 200}, done, {});
}

void LiveByHabits(Chance& chance, Wheel& wheel, int days_long) {
  const Habits habits = HabitsByChance(chance);
  const int entry = NumberOf(wheel.Calendar().turn.DayOf(wheel.History().entered));
  // "As done earlier": the last days before the entry, typed in with it.
  for (int i = chance.Between(0, 3); entry > 0 && i > 0; --i) {
    wheel.Do(chance.Between(0, entry), {chance.OneIn(2) ? kTurn : kWash}, chance.Between(4, 7));
    wheel.History().acts.back().known_from = std::max(wheel.History().entered, wheel.History().acts.back().at);
  }
  for (int day = entry; day <= days_long; ++day) {
    const bool away = habits.away_from > 0 && day >= habits.away_from && day < habits.away_from + 7;
    if (away || !Of10(chance, habits.visits)) continue;
    Visit(chance, wheel, habits, day, chance.Between(8, 11));
    if (chance.OneIn(2)) Visit(chance, wheel, habits, day, chance.Between(14, 26));
  }
}

bool IsSound(const Plan& plan) { return CheckPlan(plan).empty(); }

void ForEachStage(Plan& plan, auto change) {
  for (Part& part : plan.parts) {
    for (Stage& stage : part.stages) change(stage);
    if (!part.branch) continue;
    for (BranchOption& option : part.branch->options) {
      for (Stage& stage : option.stages) change(stage);
    }
  }
}

// Own tolerances, a once care beside the recurring one of its kind or a second one of it, three alternate kinds, a care
// that comes only together.
void Enrich(Chance& chance, Plan& plan) {
  ForEachStage(plan, [&](Stage& stage) {
    const Stage before = stage;
    if (!stage.cares.empty() && chance.OneIn(4)) stage.cares[0].tolerance = chance.Between(0, 5);
    if (!stage.cares.empty() && chance.OneIn(4)) {
      const int last = stage.last_day.value_or(stage.first_day + 20);
      stage.cares.push_back(Once(chance.Between(stage.first_day, last), stage.cares[0].kinds[0]));
    }
    if (chance.OneIn(6)) {
      const std::optional<int> end = stage.last_day;
      stage.cares.push_back(Once(chance.Between(stage.first_day, end.value_or(stage.first_day + 20)), kLook));
      stage.cares.push_back(Once(chance.Between(stage.first_day, end.value_or(stage.first_day + 20)), kLook));
    }
    if (chance.OneIn(6)) stage.cares.push_back(Every(chance.Between(1, 6), {kRub, kOil, kWipe}));
    if (!IsSound(plan)) stage = before;
  });
}

// What recurs when a part is over recurs in the first stage of the next.
void RunOn(Plan& plan) {
  for (std::size_t i = 1; i < plan.parts.size(); ++i) {
    Stage& next = plan.parts[i].stages.front();
    const Stage before = next;
    next.cares = plan.parts[i - 1].stages.back().cares;
    std::erase_if(next.cares, [](const Care& care) { return std::holds_alternative<OnceOnDay>(care.cadence); });
    if (!IsSound(plan)) next = before;
  }
}

Plan PlanByChance(Chance& chance) {
  Plan plan = chance.MakePlan();
  if (chance.OneIn(4)) {
    const Plan third = chance.MakePlan(1);
    plan = WithPart(std::move(plan), StartKind::kPierced, chance.Between(0, 6), third.parts[0].stages);
    plan.parts.back().stages.back().last_day.reset();
    if (!IsSound(plan)) plan.parts.pop_back();
  }
  if (chance.OneIn(2)) Enrich(chance, plan);
  if (chance.OneIn(2)) RunOn(plan);
  return plan;
}

// A new version: one cadence is the keeper's own, the rest stays.
Plan EditedByChance(Chance& chance, Plan plan) {
  ++plan.version;
  ForEachStage(plan, [&](Stage& stage) {
    if (stage.cares.empty() || chance.OneIn(3)) return;
    Care& care = stage.cares[static_cast<std::size_t>(chance.Between(0, static_cast<int>(stage.cares.size()) - 1))];
    if (!std::holds_alternative<EveryDays>(care.cadence) && !std::holds_alternative<TimesAWeek>(care.cadence)) return;
    const Care before = care;
    care.cadence =
        chance.OneIn(2) ? Cadence{EveryDays{chance.Between(1, 9)}} : Cadence{TimesAWeek{chance.Between(1, 7)}};
    if (!IsSound(plan)) care = before;
  });
  return plan;
}

// All of a life that many days later; the weekdays move with it, and a leap day may fall into it.
void MoveBy(Life& life, days shift) {
  for (PlanFrom& plan : life.history.plans) plan.from += shift;
  for (StartEvent& start : life.history.starts) {
    start.day += shift;
    start.known_from += shift;
  }
  for (BranchAnswer& answer : life.history.branches) answer.at += shift;
  for (CareAct& act : life.history.acts) {
    act.at += shift;
    act.known_from += shift;
  }
  for (UndoAct& undo : life.history.undos) undo.at += shift;
  for (AgreedCare& one : life.history.agreed) {
    one.day += shift;
    one.at += shift;
  }
  life.history.entered += shift;
  if (life.history.gone) *life.history.gone += shift;
  for (Date& day : life.calendar.away) day += shift;
  const Zone& zone = life.calendar.turn.zone;
  std::vector<Zone::Transition> changes = zone.Transitions();
  for (Zone::Transition& change : changes) change.from += shift;
  life.calendar.turn.zone = Zone{zone.Name(), zone.FirstOffset(), changes};
}

}  // namespace

Life LifeByChance(Chance& chance, int days_long) {
  Wheel wheel{PlanByChance(chance), chance.OneIn(2) ? 0 : chance.Between(0, 30)};
  const int entry = NumberOf(wheel.Calendar().turn.DayOf(wheel.History().entered));
  chance.SetCave(wheel, true);
  wheel.History().entered = wheel.History().plans.front().from = wheel.At(entry, chance.Between(6, 20));
  if (chance.OneIn(2)) {
    const int day = chance.Between(entry, 45);
    wheel.Start(StartKind::kEnteredBox, day - (chance.OneIn(4) ? std::min(day, 2) : 0), day, chance.Between(7, 22));
    if (chance.OneIn(8)) wheel.Undo(wheel.History().starts.back().id, day + chance.Between(0, 3), 23);
  }
  for (int i = chance.Between(0, 2); i > 0; --i) {
    wheel.Answer(chance.OneIn(2) ? "on" : "other", chance.Between(entry, days_long), chance.Between(7, 22));
  }
  if (chance.OneIn(3)) {
    const int day = chance.Between(entry, 55);
    wheel.Start(StartKind::kPierced, day, day, chance.Between(7, 22));
  }
  // A second yes, which changes nothing.
  if (chance.OneIn(8)) wheel.Start(StartKind::kEnteredBox, chance.Between(entry, 50), 51);
  if (chance.OneIn(2)) {
    const Plan first = *wheel.History().plans.back().plan;
    const int day = std::max(entry + 1, chance.Between(10, 40));
    Plan next = chance.OneIn(2) ? EditedByChance(chance, first) : PlanByChance(chance);
    // Counted from another event, which may still have to come.
    if (chance.OneIn(5)) {
      next.parts[0].start = StartKind::kSalted;
      if (chance.OneIn(2)) wheel.Start(StartKind::kSalted, std::max(0, day - 2), day + chance.Between(0, 9), 13);
    }
    wheel.Change(std::move(next), day, chance.Between(5, 22));
    if (chance.OneIn(3)) {
      wheel.Change(EditedByChance(chance, first), day + chance.Between(0, 15), 23);
    }
  }
  for (int i = chance.OneIn(4) ? chance.Between(1, 2) : 0; i > 0; --i) {
    const int day = chance.Between(entry, 50);
    const auto stands_for = chance.OneIn(2) ? std::optional{kTurn} : std::nullopt;
    wheel.Agree(chance.OneIn(2) ? kWash : kWipe, day + chance.Between(0, 6), day, stands_for, chance.Between(8, 20));
  }
  if (chance.OneIn(3)) {
    chance.Live(wheel, days_long);
  } else {
    LiveByHabits(chance, wheel, days_long);
  }
  // Two phones at one instant, and one line sent twice.
  std::vector<CareAct>& acts = wheel.History().acts;
  if (acts.size() > 2 && chance.OneIn(5)) {
    acts[1].at = acts[0].at;
    acts[1].known_from = acts[0].known_from;
    acts.push_back(acts[2]);
  }
  // Who does what stands for a care does not skip that care by the same act.
  for (const AgreedCare& agreed : wheel.History().agreed) {
    for (CareAct& act : acts) {
      if (agreed.stands_for && act.done.Has(agreed.kind)) act.skipped = act.skipped.Without({*agreed.stands_for});
    }
  }
  if (chance.OneIn(10)) wheel.History().gone = wheel.At(chance.Between(35, 60), 11);
  Life life{wheel.History(), wheel.Calendar()};
  // The leap day of 2028 falls on any of the days.
  if (chance.OneIn(3)) MoveBy(life, MakeDate(2028, 2, 29) - Day(chance.Between(0, days_long)));
  return life;
}

std::vector<Instant> AskedByChance(Chance& chance, const Life& life, int days_long) {
  std::vector<Instant> asked;
  const Date entry = life.calendar.turn.DayOf(life.history.entered);
  for (int n = 0; n <= days_long; n += chance.Between(1, 7)) {
    const Date day = entry + days{n};
    const Instant start = life.calendar.turn.StartOf(day);
    asked.push_back(start + minutes{chance.Between(0, 24 * 60)});
    if (chance.OneIn(4)) asked.push_back(start);
    if (chance.OneIn(4)) asked.push_back(life.calendar.turn.EndOf(day) - Millis{1});
  }
  // The days on which stages change hands.
  const auto ask_on = [&](Date day) {
    asked.push_back(life.calendar.turn.EndOf(day) - minutes{chance.Between(1, 300)});
  };
  for (const PlanFrom& plan : life.history.plans) ask_on(life.calendar.turn.DayOf(plan.from));
  for (const BranchAnswer& answer : life.history.branches) ask_on(life.calendar.turn.DayOf(answer.at));
  for (const StartEvent& start : life.history.starts) ask_on(start.day + days{1});
  std::erase_if(asked, [&](Instant at) { return at < life.history.entered; });
  return asked;
}

}  // namespace rindwatch::rules::testing
