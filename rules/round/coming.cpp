#include "rules/round/coming.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

#include "rules/plans/kinds.hpp"
#include "rules/round/line_making.hpp"
#include "rules/round/order.hpp"

namespace rindwatch::rules {

namespace {

std::vector<CareKind> EachOnce(const std::vector<CareKind>& kinds) {
  std::vector<CareKind> once;
  for (const CareKind kind : kinds) {
    if (!Contains(once, kind)) once.push_back(kind);
  }
  return once;
}

// Wheels of one board that are done alike; age groups and lots stay apart as on the round itself.
struct Key {
  WayPoint walk;
  std::vector<CareKind> kinds;
  bool operator<(const Key& other) const { return std::tie(walk, kinds) < std::tie(other.walk, other.kinds); }
};

struct Day {
  std::map<Key, ComingLine> lines;
  std::set<std::pair<int, int>> gloves;  // mark and rind
};

void Add(const GroupAhead& group, const Ahead& ahead, const RoundHabits& habits, Day& day) {
  Key key{WayPointOf(*group.group, habits.by_room), EachOnce(ahead.kinds)};
  day.gloves.emplace(key.walk.mark, key.walk.rind);
  const std::vector<RoundWheel>& wheels = group.group->wheels;
  ComingLine& line = day.lines[std::move(key)];
  if (line.wheels.empty()) {
    line.place = group.group->place;
    line.lot = group.group->lot;
    line.kinds = EachOnce(ahead.kinds);
  }
  line.wheels.insert(line.wheels.end(), wheels.begin(), wheels.end());
  line.seconds += SecondsFor(ahead.kinds, wheels, *group.group->schedule->standing.plan, line.place, habits.pace);
}

}  // namespace

std::vector<ComingDay> ComingDays(const std::vector<GroupAhead>& groups, const RoundHabits& habits, Date after) {
  std::map<Date, Day> days;
  for (const GroupAhead& group : groups) {
    for (const Ahead& ahead : *group.ahead) {
      if (ahead.day > after) Add(group, ahead, habits, days[ahead.day]);
    }
  }
  std::vector<ComingDay> coming;
  for (auto& [date, day] : days) {
    ComingDay& made = coming.emplace_back();
    made.day = date;
    MinuteSum sum;
    sum.AddChange(static_cast<int>(day.gloves.size() - 1) * kChangeTime);
    for (auto& [key, line] : day.lines) {
      line.seconds = std::round(line.seconds);
      sum.AddLine(line.seconds);
      std::ranges::sort(line.wheels, {}, [](const RoundWheel& wheel) { return std::pair(wheel.number, wheel.id); });
      made.lines.push_back(std::move(line));
    }
    made.minutes = sum.Minutes();
  }
  return coming;
}

}  // namespace rindwatch::rules
