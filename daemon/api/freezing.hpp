// Of air that is too cold and falls: by when it is at freezing.
#pragma once

#include <string>

#include "daemon/api/context.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

// "At this pace 0 °C in about 45 min."; empty: of any other alarm, of one that is over, of air that nobody knows, or
// that does not fall.
std::string FreezingWords(const ApiContext& context, const rules::Alarm& alarm);

}  // namespace rindwatch
