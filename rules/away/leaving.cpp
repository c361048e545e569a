#include "rules/away/leaving.hpp"

#include <algorithm>
#include <array>

#include "rules/plans/kinds.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;
using std::chrono::hours;

constexpr std::array kRounds{hours{7}, hours{19}};  // by the clock on the wall

CareAct Doing(const std::vector<CareKind>& kinds, Instant at, std::size_t number) {
  CareAct act;
  // No phone makes such an id.
  act.id = "left " + std::to_string(number);
  act.at = act.known_from = at;
  act.done = kinds;
  return act;
}

bool MayBeDone(const CareLine& line, bool early) { return line.OnRound() || (early && line.state == CareState::kOpen); }

void Add(const std::vector<CareKind>& more, std::vector<CareKind>& kinds) {
  for (const CareKind kind : more) {
    if (!Contains(kinds, kind)) kinds.push_back(kind);
  }
}

// One round of the keeper before leaving.
void DoRound(Left& left, Instant at, bool last_day) {
  const Schedule schedule = ScheduleAt(left.wheel, left.calendar, at);
  std::vector<CareKind> kinds;
  for (const CareLine& line : schedule.lines) {
    if (!MayBeDone(line, last_day)) continue;
    Add(WholeOf(line), kinds);
    if (last_day) left.before.push_back(line);
  }
  if (!kinds.empty()) left.wheel.acts.push_back(Doing(kinds, at, left.wheel.acts.size()));
}

}  // namespace

bool IsForHelper(CareKind kind) {
  return kind == CareKind::kTurn || kind == CareKind::kWipe || kind == CareKind::kLook;
}

Left LeaveAlone(WheelHistory wheel, CareCalendar calendar, Instant now, Date from, Date back) {
  Left left{std::move(wheel), std::move(calendar), {}, {}};
  std::erase_if(left.calendar.away, [&](Date day) { return from <= day && day < back; });
  const Date today = left.calendar.turn.DayOf(now);
  left.last_day = std::max(today, from - days{1});
  if (from < today) return left;
  for (Date day = today; day <= left.last_day; day += days{1}) {
    bool any = false;
    for (const hours hour : kRounds) {
      const Instant at = left.calendar.turn.zone.FirstInstantAtOrAfter(LocalTime{day} + hour);
      if (at < now) continue;
      DoRound(left, at, day == left.last_day);
      any = true;
    }
    // Late in the evening it is done at once.
    if (!any) DoRound(left, now, day == left.last_day);
  }
  return left;
}

}  // namespace rindwatch::rules
