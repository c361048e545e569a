// How an alarm system does, in the figures of ANSI/ISA-18.2 and IEC 62682: how many alarms are told in ten minutes,
// floods, what stands too long, what chatters. What follows from the figures is the keeper's to say; no claim of
// conformity. The standard's own limits stand beside the figures; tests/reference/alarm_practice.csv says where each
// comes from.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "rules/alarms/engine.hpp"

namespace rindwatch::rules {

// Of one alarm: when it was told (raised, or asked again because it got worse) and when it was over.
struct Told {
  std::string what;  // the alarm by its kind and subject: what returns under the same name chatters
  Severity severity = Severity::kWatch;
  std::vector<Instant> at;  // ascending
  std::optional<Instant> over;
};

struct AlarmRates {
  std::size_t told = 0;
  double per_ten_minutes = 0;           // on average; 1 is very likely acceptable, 2 the most that is manageable
  double per_day = 0;                   // 150; 300
  std::size_t most_in_ten_minutes = 0;  // of the periods counted from the begin of the span
  double flooded_periods = 0;           // percent of ten-minute periods with more than 10; less than 1
  double busy_hours = 0;                // percent of hours with more than 30, counted likewise; less than 1
  std::size_t floods = 0;               // begin with more than 10 in ten minutes, end with fewer than 5
  double flooded_time = 0;              // percent
  std::size_t chattering = 0;           // told three times or more within one minute
  std::size_t fleeting = 0;             // over within a minute
  std::size_t stale_most = 0;           // of those that had stood for more than 24 h at one time
  std::size_t stale = 0;                // alarms that stood for more than 24 h
  // Percent of all that was told that the ten most frequent make up, each by its `what`; 1 to 5 at most. The standard
  // has thousands of alarms in mind: a house in which no more than ten ever spoke is always at 100.
  double ten_most_frequent = 0;
  // Percent of the alarms that were told: hint and watch (low), act (medium), urgent (high).
  double low = 0, medium = 0, high = 0;
};

// Over the span [from, to): of what was told in it, and of what stood in it. What stands at its end has no `over`.
AlarmRates RatesOf(const std::vector<Told>& told, Instant from, Instant to);

}  // namespace rindwatch::rules
