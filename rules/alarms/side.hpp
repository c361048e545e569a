// What is counted on one side of a cave's air, minute by minute, and what it comes to.
#pragma once

#include "rules/alarms/body.hpp"

namespace rindwatch::rules::watch {

inline constexpr Millis kMinute = minutes{1};

// Takes in the minute that ends at `at`.
void Count(const Ladder& ladder, Side& side, double mean, double deadband, Instant at);
// Forgets what was counted, not what the page says.
void CountAnew(Side& side);

// The severity that the side has come to, by time or by dose. A mean lags behind the air: where the last minutes are
// back inside, a door that was shut or a defrost that is over must not ring.
std::optional<Severity> Reached(const Ladder& ladder, const Side& side, double recent);
bool IsBack(const Ladder& ladder, double mean, double deadband);

}  // namespace rindwatch::rules::watch
