#include "daemon/round/round.hpp"

#include <algorithm>

#include "rules/plans/kinds.hpp"

namespace rindwatch {

using rules::Ahead;
using rules::CareLine;
using rules::Date;
using rules::Instant;
using rules::Schedule;

namespace {

rules::Round Work(Date day, const rules::RoundHabits& habits, const WheelsLying& lying) {
  std::vector<rules::RoundGroup> groups;
  for (const WheelGroup& group : lying.groups) groups.push_back(group.group);
  return rules::MakeRound(day, habits, std::move(groups));
}

const rules::Care* CareAsking(const rules::Standing& standing, rules::CareKind kind) {
  if (!standing.stage) return nullptr;
  const auto found = std::ranges::find_if(standing.stage->cares,
                                          [&](const rules::Care& care) { return rules::Contains(care.kinds, kind); });
  return found == standing.stage->cares.end() ? nullptr : &*found;
}

// The lines of a day as they will read if everything is done until then.
Schedule ExpectedSchedule(const WheelGroup& group, const std::vector<Ahead>& ahead, Date day, Instant morning) {
  Schedule schedule;
  schedule.standing = rules::StandingAt(*group.history, *group.calendar, morning);
  for (const Ahead& on : ahead) {
    if (on.day != day) continue;
    CareLine line;
    for (const rules::CareKind kind : on.kinds) {
      if (!rules::Contains(line.kinds, kind)) line.kinds.push_back(kind);
    }
    line.state = rules::CareState::kDue;
    line.due = line.window_end = day;
    line.care = CareAsking(schedule.standing, line.kinds.front());
    // Answers that the book does not hold yet will have led it into another part: on which day of it is not known.
    if (!line.care) schedule.standing.stage = nullptr;
    schedule.lines.push_back(std::move(line));
  }
  return schedule;
}

}  // namespace

rules::RoundHabits HabitsOf(const Book& book, const rules::Pace& pace) { return {book.IsByRoom(), pace}; }

DayRound RoundAsOf(const Book& book, Instant at, const rules::Pace& pace) {
  DayRound round;
  round.asked = at;
  round.habits = HabitsOf(book, pace);
  WheelsLying lying = GatherAt(book, at);
  ScheduleAll(lying, at);
  round.work = Work(book.Home().DayOf(at), round.habits, lying);
  return round;
}

DayRound ExpectedRound(const Book& book, Instant now, Date day, const rules::Pace& pace) {
  DayRound round;
  round.expected = true;
  round.habits = HabitsOf(book, pace);
  round.asked = book.Home().zone.FirstInstantAtOrAfter(rules::LocalTime{day} + std::chrono::hours{7});
  WheelsLying lying = GatherAt(book, now);
  ScheduleAll(lying, now);
  const int day_count = static_cast<int>((day - book.Home().DayOf(now)).count()) + 1;
  LivesAhead ahead;
  std::map<const Schedule*, std::shared_ptr<const Schedule>> made;
  for (WheelGroup& group : lying.groups) {
    auto& schedule = made[group.group.schedule.get()];
    if (!schedule) {
      schedule =
          std::make_shared<const Schedule>(ExpectedSchedule(group, ahead.Of(group, now, day_count), day, round.asked));
    }
    group.group.schedule = schedule;
  }
  std::erase_if(lying.groups, [](const WheelGroup& group) { return !group.group.schedule->standing.plan; });
  round.work = Work(day, round.habits, lying);
  return round;
}

}  // namespace rindwatch
