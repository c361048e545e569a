#include "daemon/round/round.hpp"

#include <algorithm>

#include "daemon/round/quiet.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch {

using rules::Ahead;
using rules::CareCalendar;
using rules::CareLine;
using rules::Date;
using rules::Instant;
using rules::Schedule;
using std::chrono::days;

namespace {

constexpr int kWeek = 7;
constexpr int kMonth = 31;
// Today may be the first day with work; the one after it is what is asked for.
constexpr std::size_t kDaysToSee = 2;

using LifeKey = std::pair<const rules::WheelHistory*, const CareCalendar*>;
using AheadOfLives = std::map<LifeKey, std::vector<Ahead>>;

rules::Round Work(Date day, const rules::RoundHabits& habits, const WheelsLying& gathering) {
  std::vector<rules::RoundGroup> groups;
  for (const WheelGroup& group : gathering.groups) groups.push_back(group.group);
  return rules::MakeRound(day, habits, std::move(groups));
}

std::vector<const rules::RoundGroup*> GroupsOf(const WheelsLying& gathering) {
  std::vector<const rules::RoundGroup*> groups;
  for (const WheelGroup& group : gathering.groups) groups.push_back(&group.group);
  return groups;
}

AheadOfLives LookAheadOf(const WheelsLying& gathering, Instant now, int day_count, std::size_t at_most) {
  AheadOfLives ahead;
  for (const WheelGroup& group : gathering.groups) {
    const LifeKey key{group.history, group.calendar};
    if (!ahead.contains(key)) ahead[key] = rules::LookAhead(*group.history, *group.calendar, now, day_count, at_most);
  }
  return ahead;
}

std::vector<rules::ComingDay> ComingIn(const WheelsLying& gathering, const AheadOfLives& ahead,
                                       const rules::RoundHabits& habits, Date today) {
  std::vector<rules::GroupAhead> groups;
  for (const WheelGroup& group : gathering.groups)
    groups.push_back({&group.group, &ahead.at({group.history, group.calendar})});
  return rules::ComingDays(groups, habits, today);
}

// The days of the next week; if it holds no work, the first day of the month that does.
std::vector<rules::ComingDay> Coming(const WheelsLying& gathering, const rules::RoundHabits& habits, Instant now,
                                     Date today) {
  auto coming =
      ComingIn(gathering, LookAheadOf(gathering, now, kWeek + 1, static_cast<std::size_t>(-1)), habits, today);
  if (!coming.empty()) return coming;
  coming = ComingIn(gathering, LookAheadOf(gathering, now, kMonth, kDaysToSee), habits, today);
  if (coming.size() > 1) coming.resize(1);
  return coming;
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

rules::RoundHabits HabitsOf(const Book& book, const rules::Pace& pace) { return {book.IsByRoom(), pace}; }

}  // namespace

int DayRound::MinutesOn(Date day) const {
  const auto found = std::ranges::find(coming, day, &rules::ComingDay::day);
  return found == coming.end() ? 0 : rules::InWholeMinutes(found->seconds);
}

std::vector<rules::ComingDay> ComingDaysOf(const DayRound& round, Instant now, int day_count) {
  const auto ahead = LookAheadOf(round.gathering, now, day_count, static_cast<std::size_t>(-1));
  return ComingIn(round.gathering, ahead, round.habits, round.Day());
}

DayRound RoundAsOf(const Book& book, Instant at, const rules::Pace& pace) {
  DayRound round;
  round.asked = at;
  round.habits = HabitsOf(book, pace);
  round.gathering = GatherAt(book, at);
  ScheduleAll(round.gathering, at);
  round.work = Work(book.Home().DayOf(at), round.habits, round.gathering);
  return round;
}

DayRound RoundAt(const Book& book, Instant now, const rules::Pace& pace) {
  DayRound round = RoundAsOf(book, now, pace);
  const auto groups = GroupsOf(round.gathering);
  round.open = rules::OpenLines(groups);
  round.later = rules::LaterLines(groups, round.Day());
  round.coming = Coming(round.gathering, round.habits, now, round.Day());
  round.quiet_since = QuietSince(book, round.work);
  return round;
}

DayRound ExpectedRound(const Book& book, Instant now, Date day, const rules::Pace& pace) {
  DayRound round;
  round.expected = true;
  round.habits = HabitsOf(book, pace);
  round.gathering = GatherAt(book, now);
  const Instant morning = book.Home().zone.FirstInstantAtOrAfter(rules::LocalTime{day} + std::chrono::hours{7});
  round.asked = morning;
  const int day_count = static_cast<int>((day - book.Home().DayOf(now)).count()) + 1;
  std::map<LifeKey, std::shared_ptr<const Schedule>> made;
  const AheadOfLives ahead = LookAheadOf(round.gathering, now, day_count, static_cast<std::size_t>(-1));
  for (WheelGroup& group : round.gathering.groups) {
    const LifeKey key{group.history, group.calendar};
    auto& schedule = made[key];
    if (!schedule) schedule = std::make_shared<const Schedule>(ExpectedSchedule(group, ahead.at(key), day, morning));
    group.group.schedule = schedule;
  }
  std::erase_if(round.gathering.groups, [](const WheelGroup& group) { return !group.group.schedule->standing.plan; });
  round.work = Work(day, round.habits, round.gathering);
  return round;
}

}  // namespace rindwatch
