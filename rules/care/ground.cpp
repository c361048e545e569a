#include "rules/care/ground.hpp"

#include <algorithm>

namespace rindwatch::rules {
namespace {

using std::chrono::days;
using std::chrono::milliseconds;

std::vector<Shift> ShiftsOf(const std::vector<Absence>& absences, const Deeds& deeds, const DayTurn& turn) {
  std::vector<Shift> shifts;
  for (const Absence& absence : absences) {
    Shift shift;
    shift.day = absence.Return();
    shift.at = turn.StartOf(shift.day);
    shift.absence = &absence;
    shifts.push_back(shift);
  }
  for (const AgreedDeed& agreed : deeds.agreed) {
    if (!agreed.care->stands_for) continue;
    shifts.push_back({agreed.asked_on, agreed.care->at, nullptr, *agreed.care->stands_for, agreed.care->day});
  }
  std::ranges::stable_sort(shifts, {}, &Shift::at);
  return shifts;
}

Date EntryOf(const WheelHistory& wheel, const Known& known, const DayTurn& turn) {
  const Date entered = turn.DayOf(wheel.entered);
  return known.plans.empty() ? entered : std::max(entered, turn.DayOf(known.plans.front()->from));
}

}  // namespace

Ground::Ground(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked_at)
    : asked(asked_at),
      turn(calendar.turn),
      care_days(calendar.care_days),
      known(KnownAt(wheel, asked)),
      timeline(known, turn),
      deeds(DeedsOf(known, timeline, turn)),
      absences(AbsencesOf(calendar.away)),
      shifts(ShiftsOf(absences, deeds, turn)),
      today(turn.DayOf(asked)),
      entry(EntryOf(wheel, known, turn)) {}

Moment Ground::EndOf(Date day) const {
  constexpr milliseconds kLast{1};
  return {day, turn.EndOf(day) - kLast, turn.StartOf(NoDayZero(day + days{1})) - kLast};
}

void Ground::GoTo(Instant at) {
  asked = at;
  today = turn.DayOf(at);
}

void Ground::Recount() {
  timeline = Timeline(known, turn);
  deeds = DeedsOf(known, timeline, turn);
  shifts = ShiftsOf(absences, deeds, turn);
}

Date Ground::NoDayZero(Date day) const {
  while (timeline.IsDayZero(day)) day += days{1};
  return day;
}

const Absence* Ground::AbsenceOn(Date day) const {
  const auto after = std::ranges::upper_bound(absences, day, {}, &Absence::first);
  if (after == absences.begin() || !std::prev(after)->Holds(day)) return nullptr;
  return &*std::prev(after);
}

std::vector<Deed>::const_iterator Ground::DeedsFrom(Date day) const {
  return std::ranges::lower_bound(deeds.list, day, {}, &Deed::day);
}

}  // namespace rindwatch::rules
