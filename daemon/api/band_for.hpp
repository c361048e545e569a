// Of one place against two bands, as of a step of a plan and of what the air is kept at, whose each is. The loop's
// thread.
#pragma once

#include <string>

#include "daemon/api/context.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

// Told to keepers: neither a hint nor what another alarm tells. That nobody watched is told at any rate while nothing
// is heard of its air.
bool IsListed(const rules::Alarm& alarm);

// "1 washed rind": those of the place whose own band holds the alarm's. Empty: no other band is told of that place, or
// all there ask for this one, or none does.
std::string BandFor(const ApiContext& context, const rules::Alarm& alarm);

}  // namespace rindwatch
