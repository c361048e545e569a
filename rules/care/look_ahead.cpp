#include <algorithm>
#include <iterator>

#include "rules/care/schedule.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;
using std::chrono::hours;

constexpr hours kRounds[] = {hours{7}, hours{19}};  // by the clock on the wall

// What was tapped after the instant is not known yet.
WheelHistory Until(WheelHistory wheel, Instant from) {
  const auto later = [&](const auto& line) { return line.at > from; };
  std::erase_if(wheel.acts, [&](const CareAct& act) { return act.at > from || act.known_from > from; });
  std::erase_if(wheel.undos, later);
  std::erase_if(wheel.branches, later);
  std::erase_if(wheel.agreed, later);
  std::erase_if(wheel.starts, [&](const StartEvent& start) { return start.known_from > from; });
  while (wheel.plans.size() > 1 && wheel.plans.back().from > from) wheel.plans.pop_back();
  return wheel;
}

// Does every line at each round, then answers every question on its first day: a start with yes, a branch with its
// default.
class PerfectKeeper {
 public:
  PerfectKeeper(WheelHistory wheel, const CareCalendar& calendar) : wheel_(std::move(wheel)), calendar_(calendar) {}

  std::vector<CareKind> RoundAt(Instant at, Date day) {
    const Schedule schedule = ScheduleAt(wheel_, calendar_, at);
    std::vector<CareKind> kinds = AskedKinds(schedule);
    if (!kinds.empty()) Do(kinds, at);
    for (const Question& question : schedule.questions) Answer(question, schedule.standing, at, day);
    const bool acted = !kinds.empty() || !schedule.questions.empty();
    const bool hours_count =
        std::ranges::any_of(schedule.lines, [](const CareLine& line) { return line.not_before.has_value(); });
    next_ = acted || hours_count ? day : schedule.next_change.value_or(Date::max());
    return kinds;
  }

  // Nothing comes before this day; while something was done, and while hours count, each round is looked at.
  Date Next() const { return next_; }

 private:
  static std::vector<CareKind> AskedKinds(const Schedule& schedule) {
    std::vector<CareKind> kinds;
    for (const CareLine& line : schedule.lines) {
      for (const CareKind kind : line.kinds) {
        if (line.OnRound() && !Contains(line.done_kinds, kind) && !Contains(kinds, kind)) kinds.push_back(kind);
      }
    }
    return kinds;
  }

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
  Date next_ = Date::min();
};

}  // namespace

std::vector<Ahead> LookAhead(const WheelHistory& wheel, const CareCalendar& calendar, Instant from, int day_count,
                             std::size_t at_most) {
  std::vector<Ahead> ahead;
  PerfectKeeper keeper(Until(wheel, from), calendar);
  const Date first = calendar.turn.DayOf(from);
  for (Date day = first; day < first + days{day_count} && ahead.size() < at_most; day += days{1}) {
    Ahead today{day, {}};
    for (const hours hour : kRounds) {
      const Instant at = calendar.turn.zone.FirstInstantAtOrAfter(LocalTime{day} + hour);
      if (at < from || day < keeper.Next()) continue;
      std::ranges::copy(keeper.RoundAt(at, day), std::back_inserter(today.kinds));
    }
    if (!today.kinds.empty()) ahead.push_back(std::move(today));
  }
  return ahead;
}

}  // namespace rindwatch::rules
