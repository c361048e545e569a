// What is new in the repeated letter about a place without power: of its air nothing is heard, so what it can have come
// to is reckoned.
#pragma once

#include <string>

#include "daemon/api/context.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

// Whether what was said to do first still holds word by word, and is not told once more: the place is kept shut. Not
// where gas is measured there, which nobody sees now.
bool KeepsItsSteps(const ApiContext& context, const rules::Alarm& alarm);

// "Nothing is heard of its air since 23:14, when it was 12.2 °C. If nothing cools it, its warmest wheel is now at 12.6
// to 13.4 °C at the core." As far as it is known.
std::string DarkNews(const ApiContext& context, const rules::Alarm& alarm);

}  // namespace rindwatch
