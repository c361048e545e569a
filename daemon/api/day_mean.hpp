// "Kept warmer than it was" is said of the mean of a day, and the air may be back by the time somebody reads it.
#pragma once

#include <string>

#include "daemon/api/context.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

// The mean of the day beside the air of now and its band, as a sentence; empty: of any other alarm, of one that is
// over, or no mean is known.
std::string DayMeanWords(const ApiContext& context, const rules::Alarm& alarm);

}  // namespace rindwatch
