// The rounds to come as a calendar: one event for each day with work.
#pragma once

#include "daemon/api/context.hpp"
#include "daemon/feed/calendar.hpp"

namespace rindwatch::feed {

inline constexpr int kUsualDays = 26 * 7;
inline constexpr int kMostDays = 400;

// Today's round, as far as something of it is left, and those of `day_count` - 1 days after it, as a perfect keeper
// will find them.
Calendar RoundsOf(const ApiContext& context, int day_count = kUsualDays);

}  // namespace rindwatch::feed
