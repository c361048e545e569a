// What every care of one wheel is counted on: its stages, its deeds, the cave's calendar and the instant judged.
#pragma once

#include <set>
#include <vector>

#include "rules/care/absences.hpp"
#include "rules/care/deeds.hpp"

namespace rindwatch::rules {

// From the day of return on, or from the agreed date on, a pending care counts from there.
struct Shift {
  Date day;                          // on which it takes effect
  Instant at;                        // and from which instant
  const Absence* absence = nullptr;  // a return, or
  CareKind kind = CareKind::kTurn;   // a pending care of this kind
  Date until;                        // that is not asked before this day
};

// The day and instant that are judged. The past is judged with what is known now, so that a care that a stage left
// behind can be named.
struct Moment {
  Date day;
  Instant at;
  Instant deeds_until;  // later deeds take no part
};

// Points into the history and the calendar, and lives no longer.
struct Ground {
  Ground(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked);
  Ground(const Ground&) = delete;
  Ground(Ground&&) = delete;
  Ground& operator=(const Ground&) = delete;
  Ground& operator=(Ground&&) = delete;
  ~Ground() = default;

  Moment Now() const { return {today, asked, asked}; }
  // The end of a day that is over, with the deeds of the days 0 that followed it.
  Moment EndOf(Date day) const;

  // The day itself, or the first after it that is no day 0.
  Date NoDayZero(Date day) const;
  // Null: nobody marked the day as away.
  const Absence* AbsenceOn(Date day) const;
  // The first deed on or after a day.
  std::vector<Deed>::const_iterator DeedsFrom(Date day) const;

  // ---- for who looks ahead ----
  void GoTo(Instant at);
  // What is known changed: all that follows from it is worked out anew.
  void Recount();

  Instant asked;
  const DayTurn& turn;
  const std::set<unsigned>& care_days;
  Known known;
  Timeline timeline;
  Deeds deeds;
  std::vector<Absence> absences;
  std::vector<Shift> shifts;  // ascending
  Date today;
  // The day of entry; where the first plan was given later, the day of that. Nothing is due before.
  Date entry;
};

}  // namespace rindwatch::rules
