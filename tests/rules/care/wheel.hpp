// A wheel told in days: what the tests of the care rules are written in. Day n is n days after 2 March 2026, a Monday.
#pragma once

#include <algorithm>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "rules/care/look_ahead.hpp"

namespace rindwatch::rules::testing {

using enum CareKind;
using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;

inline constexpr Date kDayZero = MakeDate(2026, 3, 2);
inline Date Day(int n) { return kDayZero + days{n}; }
inline int NumberOf(Date day) { return static_cast<int>((day - kDayZero).count()); }

// ---- Plans ----

inline Care Every(int n, std::vector<CareKind> kinds, std::vector<CareKind> brings = {}) {
  return {std::move(kinds), std::move(brings), EveryDays{n}, {}, "", "invented"};
}
inline Care AWeek(int n, std::vector<CareKind> kinds, std::vector<CareKind> brings = {}) {
  return {std::move(kinds), std::move(brings), TimesAWeek{n}, {}, "", "invented"};
}
inline Care Once(int day, CareKind kind) { return {{kind}, {}, OnceOnDay{day}, {}, "", "invented"}; }
inline Care TwiceADay(CareKind kind) { return {{kind}, {}, MorningAndEvening{}, {}, "", "invented"}; }
inline Care OnlyBrought(CareKind kind) { return {{kind}, {}, OnlyTogether{}, {}, "", "invented"}; }
inline Care Tolerating(int tolerance, Care care) {
  care.tolerance = tolerance;
  return care;
}

inline Stage StageOf(int first, std::optional<int> last, std::vector<Care> cares) {
  Stage stage;
  stage.name = "from " + std::to_string(first);
  stage.first_day = first;
  stage.last_day = last;
  stage.cares = std::move(cares);
  stage.source = "invented";
  return stage;
}

inline Plan PlanOf(std::vector<Stage> stages) {
  Plan plan;
  plan.id = "practice";
  Part part;
  part.stages = std::move(stages);
  plan.parts.push_back(std::move(part));
  return plan;
}
// One stage from day 1 without an end.
inline Plan Always(std::vector<Care> cares) { return PlanOf({StageOf(1, std::nullopt, std::move(cares))}); }

inline Plan WithPart(Plan plan, StartKind start, int asked_from, std::vector<Stage> stages) {
  Part part;
  part.start = start;
  part.asked_from = asked_from;
  part.question = "Begun?";
  part.stages = std::move(stages);
  plan.parts.push_back(std::move(part));
  return plan;
}

inline Plan WithBranch(Plan plan, int asked_from, std::vector<BranchOption> options) {
  Branch branch;
  branch.question = "Which way?";
  branch.asked_from = asked_from;
  branch.default_option = options.front().name;
  branch.options = std::move(options);
  plan.parts.back().branch = std::move(branch);
  return plan;
}

// ---- A wheel and its cave ----

// Made on day 0 and entered that day at 08:00, in a cave whose zone is UTC.
class Wheel {
 public:
  explicit Wheel(Plan plan, int entered = 0) {
    history_.entered = At(entered, 8);
    history_.plans.push_back({std::make_shared<const Plan>(std::move(plan)), history_.entered, "plan"});
    Start(StartKind::kMade, 0);
  }

  // By the clock on the wall; hours from 24 on are the night that still belongs to the day.
  Instant At(int day, int hour, int minute = 0) const {
    return calendar_.turn.zone.FirstInstantAtOrAfter(LocalTime{Day(day)} + hours{hour} + minutes{minute});
  }

  // Entered with all that was known of it, by the clock of the cave as it is set now.
  void Enter(int day, int hour) {
    history_.entered = history_.plans.front().from = At(day, hour);
    for (StartEvent& start : history_.starts) start.known_from = history_.entered;
  }

  ActId Do(int day, std::vector<CareKind> kinds, int hour = 9, int minute = 0) {
    return Act(At(day, hour, minute), std::move(kinds), {});
  }
  ActId Skip(int day, std::vector<CareKind> kinds, int hour = 9, int minute = 0) {
    return Act(At(day, hour, minute), {}, std::move(kinds));
  }
  ActId Act(Instant at, std::vector<CareKind> done, std::vector<CareKind> skipped) {
    CareAct act;
    act.id = NextId();
    act.at = at;
    act.known_from = at;
    act.done = KindSet{done};
    act.skipped = KindSet{skipped};
    if (!act.skipped.Empty()) act.reason = "rind wet";
    history_.acts.push_back(std::move(act));
    return history_.acts.back().id;
  }
  ActId Undo(const ActId& of, int day, int hour = 10) {
    history_.undos.push_back({NextId(), of, At(day, hour)});
    return history_.undos.back().id;
  }
  ActId Start(StartKind kind, int day, int told_on = -1, int hour = 8) {
    history_.starts.push_back({NextId(), kind, Day(day), At(told_on < 0 ? day : told_on, hour), false});
    return history_.starts.back().id;
  }
  ActId Answer(std::string option, int day, int hour = 9) {
    history_.branches.push_back({NextId(), std::move(option), At(day, hour)});
    return history_.branches.back().id;
  }
  ActId Agree(CareKind kind, int for_day, int on_day, std::optional<CareKind> stands_for = {}, int hour = 10) {
    history_.agreed.push_back({NextId(), kind, Day(for_day), stands_for, At(on_day, hour)});
    return history_.agreed.back().id;
  }
  void Change(Plan plan, int day, int hour = 12) {
    history_.plans.push_back({std::make_shared<const Plan>(std::move(plan)), At(day, hour), NextId()});
  }
  void Away(int first, int last) {
    for (int day = first; day <= last; ++day) calendar_.away.push_back(Day(day));
  }

  Schedule On(int day, int hour = 12, int minute = 0) const {
    return ScheduleAt(history_, calendar_, At(day, hour, minute));
  }
  std::vector<CareLine> NotDoneOn(int day, int hour = 12) const {
    return NotDoneAt(history_, calendar_, At(day, hour));
  }
  Standing StandsOn(int day, int hour = 12) const { return StandingAt(history_, calendar_, At(day, hour)); }

  WheelHistory& History() { return history_; }
  const WheelHistory& History() const { return history_; }
  CareCalendar& Calendar() { return calendar_; }
  const CareCalendar& Calendar() const { return calendar_; }

 private:
  ActId NextId() {
    std::string id = std::to_string(++last_id_);
    return std::string(32 - id.size(), '0') + id;
  }

  WheelHistory history_;
  CareCalendar calendar_;
  int last_id_ = 0;
};

// ---- Looking at a schedule ----

// The pending line that asks for the kind, alone or first; null if there is none.
inline const CareLine* Pending(const Schedule& schedule, CareKind kind) {
  for (const CareLine& line : schedule.lines) {
    const bool open = line.state == CareState::kNotYet || line.state == CareState::kOpen || line.OnRound();
    if (open && !line.kinds.empty() && line.kinds.front() == kind) return &line;
  }
  return nullptr;
}
inline const CareLine* LineIn(const Schedule& schedule, CareState state) {
  const auto found = std::ranges::find(schedule.lines, state, &CareLine::state);
  return found == schedule.lines.end() ? nullptr : &*found;
}
// The day on which the kind is next due; nothing: it is not asked.
inline std::optional<int> DueDay(const Schedule& schedule, CareKind kind) {
  const CareLine* line = Pending(schedule, kind);
  return line ? std::optional{NumberOf(line->due)} : std::nullopt;
}
inline std::optional<CareState> StateOf(const Schedule& schedule, CareKind kind) {
  const CareLine* line = Pending(schedule, kind);
  return line ? std::optional{line->state} : std::nullopt;
}
// "wash+turn due, brush done": the round of a schedule in its order, as one text.
inline std::string RoundOf(const Schedule& schedule) {
  std::string text;
  for (const CareLine& line : schedule.lines) {
    if (line.state == CareState::kNotYet || line.state == CareState::kOpen) continue;
    if (!text.empty()) text += ", ";
    for (std::size_t i = 0; i < line.kinds.size(); ++i) {
      if (i > 0) text += '+';
      text += ToText(line.kinds[i]);
    }
    text += ' ';
    text += ToText(line.state);
  }
  return text;
}

// The days from `first` to `last` on which the kind comes on the round if whoever sees it does it at noon.
inline std::vector<int> DaysDone(Wheel wheel, CareKind kind, int first, int last) {
  std::vector<int> done;
  for (int day = first; day <= last; ++day) {
    const Schedule schedule = wheel.On(day);
    const CareLine* line = Pending(schedule, kind);
    if (!line || !line->OnRound()) continue;
    wheel.Do(day, line->kinds, 12);
    done.push_back(day);
  }
  return done;
}

}  // namespace rindwatch::rules::testing
