// Whether an alarm took days from a qualifying age. The loop's thread.
#pragma once

#include "daemon/book/book.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

// Days on which a wheel was colder itself than its rule for a qualifying age asks for. Which wheel lost which of them
// its own page says.
std::vector<rules::Date> DaysLost(const Book& book, const rules::Alarm& alarm);
// Those of one wheel.
std::vector<rules::Date> DaysLostBy(const Book& book, const rules::Alarm& alarm, rules::WheelId wheel);

// It is over, of warmth or cold, touched wheels that have a rule for their qualifying age, and took no day from it.
bool CostsNoDay(const Book& book, const rules::Alarm& alarm);

}  // namespace rindwatch
