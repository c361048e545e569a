// The temperature of a wheel by the air where it lay, day by day, as the clock of the law wants it.
#pragma once

#include <functional>
#include <map>
#include <vector>

#include "daemon/api/ribbon.hpp"
#include "rules/release/qualifying.hpp"

namespace rindwatch {

// By wheel; days on which nothing was recorded may be left out.
using AirDays = std::map<rules::WheelId, std::vector<rules::DayOfAir>>;

// Asks the store for the air around each of the wheels, from the day it was entered until today, and calls `done` in
// the loop's thread. What several wheels shared is asked once. Wheels that are not in the book are left out.
void AirDaysOf(const ApiContext& context, const std::vector<rules::WheelId>& wheels, std::function<void(AirDays)> done);

// ---- pure, for the tests ----

inline constexpr rules::Millis kQuarterHour = std::chrono::minutes{15};

// Means of quarter hours as a wheel of that weight follows them, the lower of two channels: its own mean temperature,
// at rest with the first of them. After a silence it is taken for the colder of what it was and what the air is then.
// What evaporation takes from it is left out: the law speaks of where a cheese is kept. A weight of 0 is that of a
// small one, which follows fastest.
std::vector<Bucket> FeltBy(rules::Grams weight, std::vector<Bucket> quarters);
// Means of quarter hours from any number of channels, in any order; of two in one quarter hour the lower counts. A day
// holds from `first` to `last`; what is left of the last day after `now` is no silence.
std::vector<rules::DayOfAir> DaysOfAir(const std::vector<Bucket>& quarters, const rules::DayTurn& turn,
                                       rules::Date first, rules::Date last, rules::Instant now);
// The channels that told the air around a wheel, where it lay: its cave's own, else those of the cave around it.
std::vector<HungSpan> AirWhereItLay(const Book& book, const WheelRow& wheel, rules::Instant to);

}  // namespace rindwatch
