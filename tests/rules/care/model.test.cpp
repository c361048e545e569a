// The schedule against a second answer to the same question, over plans, keepers and caves by chance.
#include "tests/rules/care/model.hpp"

#include <cstdlib>
#include <iostream>
#include <sstream>

#include "tests/catch.hpp"
#include "tests/rules/care/model_keepers.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

namespace {

constexpr int kDays = 64;

unsigned Seeds() {
  const char* more = std::getenv("RINDWATCH_SEEDS");
  return more ? static_cast<unsigned>(std::atoi(more)) : 250;
}

// ---- Both answers as one text ----

std::string KindsOf(const std::vector<CareKind>& kinds) {
  std::string text;
  for (const CareKind kind : kinds) text += (text.empty() ? "" : "+") + std::string{ToText(kind)};
  return text;
}

// A line that is not on the round is told without what it brings; the windows of two cares that come as one line are
// two; a morning-and-evening care has none.
std::string TextOf(const ModelLine& line, Instant asked) {
  const bool on_round = line.state == CareState::kDue || line.state == CareState::kLate;
  std::string text = KindsOf(on_round ? line.kinds : std::vector{line.kinds.front()});
  text += ' ' + std::string{ToText(line.state)} + ", due day " + ToText(line.due);
  if (on_round && !line.done_kinds.empty()) text += ", done " + KindsOf(line.done_kinds);
  if (on_round && !line.skipped_kinds.empty()) text += ", skipped " + KindsOf(line.skipped_kinds);
  if ((!on_round || line.kinds.size() == 1) && !line.not_before)
    text += ", " + ToText(line.opens) + " to " + ToText(line.window_end);
  if (line.away) text += ", away";
  if (line.agreed) text += ", agreed";
  if (line.evening) text += ", evening";
  if (line.not_before && *line.not_before > asked) text += ", not before " + ToText(*line.not_before);
  return text;
}

// What a line says is done or skipped of the care that brings others, and of what it brings, if that has a cadence of
// its own. By whose act is compared for what comes alone: the others have one line with their leader.
void AddSettled(const ModelLine& line, const std::set<CareKind>& brought, const std::set<CareKind>& own,
                std::set<std::string>& settled) {
  const auto add = [&](CareKind kind, bool done, std::string by) {
    if (brought.contains(kind) && !own.contains(kind)) return;
    settled.insert("\n  " + std::string{ToText(kind)} + (done ? " done" : " skipped") + by);
  };
  const CareKind first = line.kinds.front();
  const bool done = line.state == CareState::kDone;
  // What an act skipped of what it would have brought may have been done by another.
  if (done || (line.state == CareState::kSkipped && !brought.contains(first))) {
    add(first, done, brought.contains(first) ? "" : " by " + ToText(line.settled_by).substr(28));
  }
  for (const CareKind kind : line.done_kinds) {
    if (kind != first) add(kind, true, "");
  }
  for (const CareKind kind : line.skipped_kinds) {
    if (kind != first && !brought.contains(kind)) add(kind, false, "");
  }
}

// Pending lines in their order, then what was settled or named once, in the order of the text. On a day 0 nothing is
// due, and what comes after it is not compared.
std::string TextOfLines(const ModelAnswer& answer, Instant asked) {
  std::string pending;
  std::set<std::string> others;
  std::set<CareKind> brought, own, here;
  const std::vector<Care> cares = answer.stage_of_acts ? answer.stage_of_acts->cares : std::vector<Care>{};
  for (const Care& care : cares) {
    brought.insert(care.brings.begin(), care.brings.end());
    here.insert(care.kinds.begin(), care.kinds.end());
    // What comes once may have been settled on another day, and of morning and evening a doing may be a repeat.
    if (std::holds_alternative<EveryDays>(care.cadence) || std::holds_alternative<TimesAWeek>(care.cadence)) {
      own.insert(care.kinds.begin(), care.kinds.end());
    }
  }
  for (const ModelLine& line : answer.lines) {
    const bool on_round = line.state == CareState::kDue || line.state == CareState::kLate;
    if (line.state == CareState::kRetired || line.state == CareState::kNotDone) {
      for (const CareKind kind : line.kinds) {
        others.insert("\n  " + std::string{ToText(kind)} + ' ' + std::string{ToText(line.state)});
      }
      continue;
    }
    // What only the coming stage has is shown on a day 0 too.
    if (answer.stage || here.contains(line.kinds.front())) AddSettled(line, brought, own, others);
    if (line.state == CareState::kDone || line.state == CareState::kSkipped) continue;
    if (answer.stage || on_round) pending += "\n  " + TextOf(line, asked);
  }
  for (const std::string& other : others) pending += other;
  return pending;
}

std::string TextOf(const ModelAnswer& answer, Instant asked) {
  if (answer.gone) return "gone";
  std::string text = "day " + std::to_string(answer.day) + " of part " + std::to_string(answer.part);
  if (answer.stage) text += ", stage " + answer.stage->name;
  if (!answer.option.empty()) text += ", way " + answer.option;
  if (answer.past_plan) text += ", past its plan";
  text += TextOfLines(answer, asked);
  std::set<std::string> questions(answer.questions.begin(), answer.questions.end());
  for (const std::string& question : questions) text += "\n  ? " + question;
  return text;
}

ModelAnswer AsAnswer(const Schedule& schedule, const Stage* stage_of_acts) {
  ModelAnswer answer;
  answer.stage_of_acts = stage_of_acts;
  answer.gone = schedule.standing.gone;
  answer.part = schedule.standing.part;
  answer.day = schedule.standing.day;
  answer.stage = schedule.standing.stage;
  // A day 0 that no stage holds shows the first stage's band.
  if (answer.stage && answer.day < answer.stage->first_day) answer.stage = nullptr;
  answer.option = schedule.standing.branch_option;
  answer.past_plan = schedule.standing.past_plan;
  for (const CareLine& line : schedule.lines) {
    answer.lines.push_back({line.kinds, line.done_kinds, line.skipped_kinds, line.state, line.opens, line.due,
                            line.window_end, line.away, line.agreed, line.evening, line.not_before, line.settled_by});
  }
  for (const Question& question : schedule.questions) answer.questions.push_back(question.text);
  return answer;
}

template <typename Line>
std::string NotDone(const std::vector<Line>& lines) {
  std::string text;
  for (const Line& line : lines) {
    text += "\n  never " + std::string{ToText(line.kinds.front())} + " of " + ToText(line.due);
  }
  return text;
}

struct Answers {
  std::string schedule, model;
  bool Differ() const { return schedule != model; }
};

Answers Ask(const Life& life, Instant at) {
  const ModelAnswer model = AskModel(life.history, life.calendar, at);
  const Schedule schedule = ScheduleAt(life.history, life.calendar, at);
  return {TextOf(AsAnswer(schedule, model.stage_of_acts), at) + NotDone(NotDoneAt(life.history, life.calendar, at)),
          TextOf(model, at) + NotDone(AskModelNotDone(life.history, life.calendar, at))};
}

bool Differs(const Life& life, Instant at) { return Ask(life, at).Differ(); }

// ---- A difference made small, and told ----

template <typename Line>
bool DropOne(Life& life, std::vector<Line>& list, std::size_t keep, Instant at) {
  for (std::size_t i = list.size(); i-- > keep;) {
    const std::vector<Line> before = list;
    list.erase(list.begin() + static_cast<std::ptrdiff_t>(i));
    if (Differs(life, at)) return true;
    list = before;
  }
  return false;
}

template <typename Change>
bool Try(Life& life, Instant at, Change change) {
  Life changed = life;
  if (!change(changed) || !Differs(changed, at)) return false;
  life = std::move(changed);
  return true;
}

// Leaves out one care, or one thing about it.
bool DropCare(Life& life, Instant at) {
  for (std::size_t p = 0; p < life.history.plans.size(); ++p) {
    const auto each = [&](auto change) {
      return Try(life, at, [&](Life& one) {
        Plan plan = *one.history.plans[p].plan;
        if (!change(plan)) return false;
        one.history.plans[p].plan = std::make_shared<const Plan>(std::move(plan));
        return true;
      });
    };
    if (each([](Plan& plan) { return plan.parts.back().branch && (plan.parts.back().branch.reset(), true); }))
      return true;
    if (each([](Plan& plan) { return plan.parts.size() > 1 && (plan.parts.pop_back(), true); })) return true;
    for (std::size_t part = 0; part < life.history.plans[p].plan->parts.size(); ++part) {
      const std::size_t stages = life.history.plans[p].plan->parts[part].stages.size();
      if (each([&](Plan& plan) {
            auto& list = plan.parts[part].stages;
            return list.size() > 1 && !plan.parts[part].branch && (list.pop_back(), true);
          })) {
        return true;
      }
      for (std::size_t stage = 0; stage < stages; ++stage) {
        const auto& cares = life.history.plans[p].plan->parts[part].stages[stage].cares;
        for (std::size_t i = 0; i < cares.size(); ++i) {
          const auto of = [&](Plan& plan) -> auto& { return plan.parts[part].stages[stage].cares; };
          if (each([&](Plan& plan) {
                return of(plan).erase(of(plan).begin() + static_cast<std::ptrdiff_t>(i)), true;
              }) ||
              each([&](Plan& plan) { return !of(plan)[i].brings.empty() && (of(plan)[i].brings.clear(), true); })) {
            return true;
          }
        }
      }
    }
  }
  return false;
}

void Shrink(Life& life, Instant at) {
  WheelHistory& history = life.history;
  bool smaller = true;
  for (int i = 0; smaller && i < 400; ++i) {
    smaller =
        DropOne(life, history.acts, 0, at) || DropOne(life, history.undos, 0, at) ||
        DropOne(life, history.agreed, 0, at) || DropOne(life, history.branches, 0, at) ||
        DropOne(life, history.plans, 1, at) || DropOne(life, history.starts, 1, at) ||
        DropOne(life, life.calendar.away, 0, at) || DropCare(life, at) ||
        Try(life, at,
            [](Life& one) { return !one.calendar.care_days.empty() && (one.calendar.care_days.clear(), true); }) ||
        Try(life, at, [](Life& one) {
          return one.calendar.turn.zone.Name() != "UTC" && (one.calendar.turn.zone = Zone{}, true);
        });
    for (std::size_t a = 0; !smaller && a < history.acts.size(); ++a) {
      for (const CareKind kind : history.acts[a].done.With(history.acts[a].skipped)) {
        smaller = smaller || Try(life, at, [&](Life& one) {
                    CareAct& act = one.history.acts[a];
                    if ((act.done.Count() + act.skipped.Count()) < 2) return false;
                    act.done = act.done.Without({kind});
                    act.skipped = act.skipped.Without({kind});
                    return true;
                  });
        if (smaller) break;
      }
    }
  }
}

std::string TextOfCadence(const Cadence& cadence) {
  if (const auto* every = std::get_if<EveryDays>(&cadence)) return "every " + std::to_string(every->days) + " days";
  if (const auto* week = std::get_if<TimesAWeek>(&cadence)) return std::to_string(week->times) + " a week";
  if (const auto* once = std::get_if<OnceOnDay>(&cadence)) return "once on day " + std::to_string(once->day);
  return std::holds_alternative<MorningAndEvening>(cadence) ? "morning and evening" : "only together";
}

void TellStages(std::ostream& out, const std::vector<Stage>& stages) {
  for (const Stage& stage : stages) {
    out << "      " << stage.first_day << " to " << (stage.last_day ? std::to_string(*stage.last_day) : "") << ':';
    for (const Care& care : stage.cares) {
      out << ' ' << KindsOf(care.kinds) << ' ' << TextOfCadence(care.cadence);
      if (!care.brings.empty()) out << " with " << KindsOf(care.brings);
      if (care.tolerance) out << " tolerance " << *care.tolerance;
      out << ';';
    }
    out << '\n';
  }
}

std::string TextOf(const Life& life) {
  std::ostringstream out;
  const WheelHistory& history = life.history;
  for (const PlanFrom& from : history.plans) {
    out << "  plan from " << ToText(from.from) << '\n';
    for (const Part& part : from.plan->parts) {
      out << "    from " << ToText(part.start) << ", asked from " << part.asked_from.value_or(0) << '\n';
      TellStages(out, part.stages);
      if (!part.branch) continue;
      for (const BranchOption& option : part.branch->options) {
        out << "      way " << option.name << ", asked from " << part.branch->asked_from << '\n';
        TellStages(out, option.stages);
      }
    }
  }
  out << "  entered " << ToText(history.entered);
  if (history.gone) out << ", gone " << ToText(*history.gone);
  out << ", " << life.calendar.turn.zone.Name() << ", the day turns at " << life.calendar.turn.hour << "\n  care days";
  for (const unsigned day : life.calendar.care_days) out << ' ' << day;
  out << "; away";
  for (const Date day : life.calendar.away) out << ' ' << ToText(day);
  out << '\n';
  for (const StartEvent& start : history.starts) {
    out << "  " << ToText(start.kind) << " on " << ToText(start.day) << ", told " << ToText(start.known_from) << '\n';
  }
  for (const BranchAnswer& answer : history.branches) {
    out << "  way " << answer.option << " at " << ToText(answer.at) << '\n';
  }
  for (const AgreedCare& one : history.agreed) {
    out << "  agreed at " << ToText(one.at) << ": " << ToText(one.kind) << " on " << ToText(one.day);
    if (one.stands_for) out << " for " << ToText(*one.stands_for);
    out << '\n';
  }
  for (const CareAct& act : history.acts) {
    out << "  " << ToText(act.id).substr(28) << " at " << ToText(act.at) << " done " << KindsOf(act.done.List())
        << " skipped " << KindsOf(act.skipped.List());
    if (act.known_from != act.at) out << ", known from " << ToText(act.known_from);
    out << '\n';
  }
  for (const UndoAct& undo : history.undos) {
    out << "  " << ToText(undo.id).substr(28) << " undoes " << ToText(undo.of).substr(28) << " at " << ToText(undo.at)
        << '\n';
  }
  return out.str();
}

// Nothing to tell: empty.
std::string DifferenceIn(Life life, const std::vector<Instant>& asked) {
  for (const Instant at : asked) {
    if (!Differs(life, at)) continue;
    Shrink(life, at);
    const Answers answers = Ask(life, at);
    return TextOf(life) + "asked at " + ToText(at) + " the schedule says\n" + answers.schedule +
           "\nthe rules in words say\n" + answers.model + '\n';
  }
  return {};
}

}  // namespace

TEST_CASE("the schedule says what the rules in words say, whatever the plan, the keeper and the cave") {
  for (unsigned seed = 31000; seed < 31000 + Seeds(); ++seed) {
    Chance chance(seed);
    const Life life = LifeByChance(chance, kDays);
    const std::string difference = DifferenceIn(life, AskedByChance(chance, life, kDays));
    INFO("seed " << seed << '\n' << difference);
    CHECK(difference.empty());
  }
}
