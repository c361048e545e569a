#include <algorithm>

#include "rules/care/schedule.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;
using std::chrono::hours;

constexpr hours kRounds[] = {hours{7}, hours{19}};  // by the clock on the wall

bool Contains(const std::vector<CareKind>& kinds, CareKind kind) {
  return std::ranges::find(kinds, kind) != kinds.end();
}

// Does every line at each round, then answers every question on its first day: a start with yes, a branch with its
// default.
class PerfectKeeper {
 public:
  PerfectKeeper(const WheelHistory& wheel, const CareCalendar& calendar) : wheel_(wheel), calendar_(calendar) {}

  std::vector<CareKind> RoundAt(Instant at, Date day) {
    const Schedule schedule = ScheduleAt(wheel_, calendar_, at);
    std::vector<CareKind> done;
    for (const CareLine& line : schedule.lines) {
      if (!line.OnRound()) continue;
      for (const CareKind kind : line.kinds) {
        if (!Contains(line.done_kinds, kind) && !Contains(done, kind)) done.push_back(kind);
      }
    }
    if (!done.empty()) Do(done, at);
    for (const Question& question : schedule.questions) Answer(question, schedule.standing, at, day);
    return done;
  }

 private:
  void Do(const std::vector<CareKind>& kinds, Instant at) {
    CareAct act;
    act.id = NextId();
    act.at = act.known_from = at;
    act.done = kinds;
    wheel_.acts.push_back(std::move(act));
  }

  void Answer(const Question& question, const Standing& standing, Instant at, Date day) {
    if (question.kind == Question::Kind::kStart) {
      wheel_.starts.push_back({NextId(), question.start, day, at, false});
    } else {
      wheel_.branches.push_back({NextId(), standing.branch_option, at});
    }
  }

  // No phone makes such an id.
  ActId NextId() { return "ahead " + std::to_string(++last_id_); }

  WheelHistory wheel_;
  const CareCalendar& calendar_;
  int last_id_ = 0;
};

}  // namespace

std::vector<Ahead> LookAhead(const WheelHistory& wheel, const CareCalendar& calendar, Instant from, int day_count) {
  std::vector<Ahead> ahead;
  PerfectKeeper keeper(wheel, calendar);
  const Date first = calendar.turn.DayOf(from);
  for (Date day = first; day < first + days{day_count}; day += days{1}) {
    Ahead today{day, {}};
    for (const hours hour : kRounds) {
      const Instant at = calendar.turn.zone.FirstInstantAtOrAfter(LocalTime{day} + hour);
      if (at < from) continue;
      const std::vector<CareKind> done = keeper.RoundAt(at, day);
      today.kinds.insert(today.kinds.end(), done.begin(), done.end());
    }
    if (!today.kinds.empty()) ahead.push_back(std::move(today));
  }
  return ahead;
}

}  // namespace rindwatch::rules
