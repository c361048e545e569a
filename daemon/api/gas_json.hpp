// What a cave's answers say of its gas: for the page, and for whoever listens at the broker. The loop's thread.
#pragma once

#include <boost/json.hpp>

#include "daemon/watch/watch.hpp"

namespace rindwatch {

// Each gas that is measured there, of several probes the worst, with its limits. Gas is for people, so it is the figure
// as it is read, not a mean.
boost::json::array GasJson(const Watch& watch, const CaveRow& cave);

// Adds it to a cave's state, which is that of its air: nobody may read "in band" and go in. Where gas rings at act or
// above the state is "gas"; where one that is measured is not known, air that is well, or not watched, is "unknown".
void PutGasFirst(boost::json::object& state, const Watch& watch, const CaveRow& cave);

}  // namespace rindwatch
