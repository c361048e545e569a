// How far a wheel's days count for the law, by its rule, by what was recorded around it and by what keepers vouch for.
#pragma once

#include <functional>
#include <map>
#include <vector>

#include "daemon/api/air_days.hpp"

namespace rindwatch {

// The states of a wheel from a day on: until `today` as they were, later as its plan expects them.
std::vector<rules::StateFrom> StatesOf(const Book& book, const WheelRow& wheel, rules::Date from, rules::Instant now);

// `rule` is the wheel's, `air` as AirDaysOf tells it.
rules::QualifyingAge AgeOf(const Book& book, const WheelRow& wheel, const rules::QualifyingRule& rule,
                           const std::vector<rules::DayOfAir>& air, rules::Instant now);

using QualifyingAges = std::map<rules::WheelId, rules::QualifyingAge>;
// Of those of the wheels that have a rule; asks the store and calls `done` in the loop's thread.
void AgesOf(const ApiContext& context, const std::vector<rules::WheelId>& wheels,
            std::function<void(QualifyingAges)> done);

}  // namespace rindwatch
