#include "rules/away/leaving.hpp"

#include <algorithm>
#include <array>
#include <optional>

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

// What is due; on the last day also what may be done already and cannot wait until the return.
bool IsDone(const CareLine& line, std::optional<Date> back) {
  return line.OnRound() || (back && line.state == CareState::kOpen && line.window_end < *back);
}

void Add(const std::vector<CareKind>& more, std::vector<CareKind>& kinds) {
  for (const CareKind kind : more) {
    if (!Contains(kinds, kind)) kinds.push_back(kind);
  }
}

// One round of the keeper before leaving.
void DoRound(Left& left, Instant at, std::optional<Date> leaves_until) {
  const Schedule schedule = ScheduleAt(left.wheel, left.calendar, at);
  std::vector<CareKind> kinds;
  for (const CareLine& line : schedule.lines) {
    if (!IsDone(line, leaves_until)) continue;
    Add(WholeOf(line), kinds);
    if (leaves_until) left.before.push_back(line);
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
    const std::optional<Date> leaves_until = day == left.last_day ? std::optional(back) : std::nullopt;
    bool any = false;
    for (const hours hour : kRounds) {
      const Instant at = left.calendar.turn.zone.FirstInstantAtOrAfter(LocalTime{day} + hour);
      if (at < now) continue;
      DoRound(left, at, leaves_until);
      any = true;
    }
    // Late in the evening it is done at once.
    if (!any) DoRound(left, now, leaves_until);
  }
  return left;
}

}  // namespace rindwatch::rules
