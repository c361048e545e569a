#include "rules/care/window.hpp"

#include <algorithm>

namespace rindwatch::rules {
namespace {

using std::chrono::days;

// Of two equally near, the earlier.
Date NearestCareDay(const std::set<unsigned>& care_days, Date counted) {
  for (days distance{0}; distance < days{7}; ++distance) {
    for (const Date day : {counted - distance, counted + distance}) {
      if (care_days.contains(WeekdayOf(day).iso_encoding())) return day;
    }
  }
  return counted;
}

Date Moved(const Ground& ground, Date counted, days tolerance, const Bounds& bounds) {
  if (ground.care_days.empty() || tolerance < days{1}) return counted;
  const Date wanted = NearestCareDay(ground.care_days, counted);
  const Date reached = std::clamp(wanted, counted - tolerance, counted + tolerance);
  return ground.NoDayZero(std::max(bounds.earliest, std::min(bounds.latest, reached)));
}

// What was due on the day of entry is still due on the next.
Date EndOfWindow(const Ground& ground, Date counted, days tolerance) {
  const Date end = counted + tolerance;
  return end == ground.entry ? end + days{1} : end;
}

}  // namespace

Window WindowAround(const Ground& ground, Date counted, int tolerance, const Bounds& bounds) {
  const days room{tolerance};
  return {counted - room, Moved(ground, counted, room, bounds), EndOfWindow(ground, counted, room)};
}

Window FixedWindow(const Ground& ground, Date counted, int tolerance) {
  const days room{tolerance};
  return {counted - room, counted, EndOfWindow(ground, counted, room)};
}

bool IsLateBefore(const Window& window, const Absence& absence) { return window.end < absence.first - days{1}; }

CareState StateOn(const Ground& ground, const Window& window, Date day) {
  if (day < window.opens) return CareState::kNotYet;
  if (day < window.due || ground.timeline.IsDayZero(day)) return CareState::kOpen;
  if (day <= window.end) return CareState::kDue;
  const Absence* absence = ground.AbsenceOn(day);
  return absence && !IsLateBefore(window, *absence) ? CareState::kDue : CareState::kLate;
}

}  // namespace rindwatch::rules
