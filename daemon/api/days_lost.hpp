// Whether an alarm took days from a qualifying age. The loop's thread.
#pragma once

#include "daemon/book/book.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

// Days that were too cold to count; none where no wheel that it touched has a rule for a qualifying age. Which of them
// a wheel lost its own page says, by its own rule.
std::vector<rules::Date> DaysLost(const Book& book, const rules::Alarm& alarm);

// It is over, of warmth or cold, touched wheels that have a rule for their qualifying age, and took no day from it.
bool CostsNoDay(const Book& book, const rules::Alarm& alarm);

}  // namespace rindwatch
