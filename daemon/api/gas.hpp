// Gas comes before all else: who may not go in, and whose word for it is gone. The loop's thread.
#pragma once

#include "daemon/api/context.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

// The alarm takes the word of a probe by which people know whether they may go in.
bool DarkensGas(const Book& book, const rules::Alarm& alarm);

// An alarm of gas stands in the cave or in the one around it.
bool StandsInGas(const ApiContext& context, rules::CaveId cave);

// Gas itself rings there at act or above, taken or not.
bool RingsOfGas(const Watch& watch, rules::CaveId cave);

// Nobody goes in: gas rings there, or nothing speaks of it any more and that rings.
bool IsBarredByGas(const ApiContext& context, rules::CaveId cave);

}  // namespace rindwatch
