// What comes, and what was not written down: pure functions of a wheel's history, its cave's calendar and an instant,
// like the schedule itself.
#pragma once

#include "rules/care/schedule.hpp"

namespace rindwatch::rules {

// The days on which the perfect keeper of this wheel will do which kinds, from `from` (exclusive of what is already
// settled) for `day_count` days, as far as is known at `from`: rounds at 07:00 and 19:00 local, questions answered yes
// on their first day, a branch by its default. Stops early when `at_most` days with work are found.
struct Ahead {
  Date day;
  std::vector<CareKind> kinds;
};
std::vector<Ahead> LookAhead(const WheelHistory& wheel, const CareCalendar& calendar, Instant from, int day_count,
                             std::size_t at_most = static_cast<std::size_t>(-1));

// A line as the perfect keeper meets it.
struct ComingCare {
  std::vector<CareKind> kinds;  // the leading one first: {wash, turn}
  Date opens;                   // from this day on it may be done early
  Date due;                     // on which it comes on the round; before `day` if it stood there already
  Date window_end;              // the last day on which it is not late
  Date day;                     // on which he does it
  bool evening = false;         // the second doing of a morning-and-evening care
  bool agreed = false;          // asked for by a keeper at a fault
  const Care* care = nullptr;   // into a plan of the history; null for an agreed care
};
// Every line that he does from `from` up to the day `last`, that day with it, in the order of his doing.
std::vector<ComingCare> ComingCares(const WheelHistory& wheel, const CareCalendar& calendar, Instant from, Date last);

// A round of the past on which cares were asked that nothing settled inside their windows.
struct UnsettledRound {
  Date day;
  Instant at;                   // 07:00 or 19:00 local
  std::vector<CareKind> kinds;  // as asked
};
// "Forgot, all fine": what was asked from the day `first` up to the day before `asked` and not written down, counted on
// as if it had been done on each of its due days, away days left out. A late entry for each, and nothing that was asked
// in those days is late at `asked`.
std::vector<UnsettledRound> UnsettledRounds(const WheelHistory& wheel, const CareCalendar& calendar, Date first,
                                            Instant asked);

}  // namespace rindwatch::rules
