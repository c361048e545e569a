#include "daemon/round/round.hpp"

#include <algorithm>

#include "rules/care/look_ahead.hpp"

namespace rindwatch {

using rules::CareLine;
using rules::Date;
using rules::Instant;
using rules::Schedule;

namespace {

rules::Round Work(Date day, const rules::RoundHabits& habits, const WheelsLying& lying) {
  std::vector<rules::RoundGroup> groups;
  groups.reserve(lying.groups.size());
  for (const WheelGroup& group : lying.groups) groups.push_back(group.group);
  return rules::MakeRound(day, habits, std::move(groups));
}

bool IsOf(const rules::Stage* stage, const rules::Care* care) {
  return stage != nullptr && std::ranges::any_of(stage->cares, [&](const rules::Care& one) { return &one == care; });
}

// The lines of a day as they will read if everything is done until then.
Schedule ExpectedSchedule(const WheelGroup& group, Instant now, Date day, Instant morning) {
  Schedule schedule;
  schedule.standing = rules::StandingAt(*group.history, *group.calendar, morning);
  for (rules::ComingCare& care : rules::ComingCares(*group.history, *group.calendar, now, day)) {
    if (care.day != day) continue;
    // Answers that the book does not hold yet will have led it into another part: on which day of it is not known.
    if (care.care && !IsOf(schedule.standing.stage, care.care)) schedule.standing.stage = nullptr;
    CareLine line;
    line.kinds = std::move(care.kinds);
    line.state = rules::CareState::kDue;
    line.opens = care.opens;
    line.due = care.due;
    line.window_end = care.window_end;
    line.evening = care.evening;
    line.agreed = care.agreed;
    line.care = care.care;
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
  std::map<const Schedule*, std::shared_ptr<const Schedule>> made;
  for (WheelGroup& group : lying.groups) {
    auto& schedule = made[group.group.schedule.get()];
    if (!schedule) {
      schedule = std::make_shared<const Schedule>(ExpectedSchedule(group, now, day, round.asked));
    }
    group.group.schedule = schedule;
  }
  std::erase_if(lying.groups, [](const WheelGroup& group) { return !group.group.schedule->standing.plan; });
  round.work = Work(day, round.habits, lying);
  return round;
}

}  // namespace rindwatch
