// Gas comes before all else: who may not go in, and whose word for it is gone. The loop's thread.
#pragma once

#include <optional>
#include <vector>

#include "daemon/api/context.hpp"
#include "rules/alarms/channels.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

// The alarm takes the word of a probe by which people know whether they may go in.
bool DarkensGas(const Book& book, const rules::Alarm& alarm);

// Whether a probe that hangs there in service measures it. `kind`: of a gas.
bool MeasuresGas(const Book& book, rules::CaveId cave, rules::ChannelKind kind);

// What is known of a gas in a cave: of its probes that speak the worst figure, as the rules judge it; where none speaks
// the last word. None: nothing was heard.
std::optional<rules::ChannelSaid> SaidOfGas(const Watch& watch, rules::CaveId cave, rules::ChannelKind kind);

// An alarm of gas stands in the cave or in one around it.
bool StandsInGas(const ApiContext& context, rules::CaveId cave);

// Gas itself rings there at act or above, taken or not.
bool RingsOfGas(const Watch& watch, rules::CaveId cave);

// Where gas rings, or nothing speaks of it any more and that rings: nobody goes in there, nor in what stands in it.
std::vector<rules::CaveId> BarredByGas(const Watch& watch);
// Nobody goes in.
bool IsBarredByGas(const Watch& watch, rules::CaveId cave);
inline bool IsBarredByGas(const ApiContext& context, rules::CaveId cave) { return IsBarredByGas(context.watch, cave); }

}  // namespace rindwatch
