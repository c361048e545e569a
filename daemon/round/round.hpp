// The round of a day of this house: the book, handed to the rules. Facts, no sentences.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "daemon/book/book.hpp"
#include "daemon/round/groups.hpp"
#include "rules/round/bring.hpp"
#include "rules/round/coming.hpp"
#include "rules/round/early.hpp"
#include "rules/round/round.hpp"
#include "rules/round/short_round.hpp"

namespace rindwatch {

// Good until the book takes in another fact.
struct DayRound {
  rules::Instant asked;   // the instant at which it stood so
  bool expected = false;  // a day to come, as a perfect keeper will find it
  rules::RoundHabits habits;
  WheelsLying gathering;  // with schedules
  rules::Round work;
  // Of today alone:
  std::vector<rules::EarlyLine> open;      // may be done early
  std::vector<rules::EarlyLine> later;     // asked a second time, from an hour on
  std::vector<rules::ComingDay> coming;    // the days of the next week, and the first with work after it
  std::optional<rules::Date> quiet_since;  // the first day without a line, if some went by

  rules::Date Day() const { return work.day; }
  std::size_t Left() const { return work.Left(); }
  // What the day has on it, as far as is known.
  int MinutesOn(rules::Date day) const;
};

// Today's, as it stands now.
DayRound RoundAt(const Book& book, rules::Instant now, const rules::Pace& pace = {});
// The days with work after the round's own, for so many days from `now` on, as a perfect keeper will find them.
std::vector<rules::ComingDay> ComingDaysOf(const DayRound& round, rules::Instant now, int day_count);

// Another instant's: lines and places as they were known then.
DayRound RoundAsOf(const Book& book, rules::Instant at, const rules::Pace& pace = {});
// Of a day to come.
DayRound ExpectedRound(const Book& book, rules::Instant now, rules::Date day, const rules::Pace& pace = {});

}  // namespace rindwatch
