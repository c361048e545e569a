// Lives of wheels by chance: richer plans than a plain test needs, changes of plan, and keepers of every sort.
#pragma once

#include "tests/rules/care/chance.hpp"

namespace rindwatch::rules::testing {

struct Life {
  WheelHistory history;
  CareCalendar calendar;
};

// From a wheel made on day 0 to `days_long` days later.
Life LifeByChance(Chance& chance, int days_long);

// Instants at which to ask, none before the entry: at any hour, where days turn, and on the days on which stages
// change.
std::vector<Instant> AskedByChance(Chance& chance, const Life& life, int days_long);

}  // namespace rindwatch::rules::testing
