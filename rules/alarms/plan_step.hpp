// The limits of a cave move where what lies in it comes to ask for something else: with a day of its plan, with a wrap
// that is signed, with a wheel that is laid in. What is out of them then no fault brought there: to turn a thermostat
// or to carry a wheel is the keeper's. Until the air was seen inside, failures are judged by the limits of before, and
// what lies beyond those of now is told by an alarm of its own, once and quietly, which stands beside whatever fails
// meanwhile.
#pragma once

#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {

struct AirWatch;
struct Cave;

// Whatever they come from.
bool SameLimits(const Figure& a, const Figure& b);
// Notices that the band has moved, and that the air is inside. `typed`: by a keeper, who means it at once.
void NoteBand(AirWatch& watch, const Figure& band, double mean, bool typed, Instant at);
// As far as the band reaches, or the one before it while that is forgiven.
Figure WiderOf(const Figure& band, const std::optional<Figure>& before);
// The band of a cave's temperature, which is not none, as far as that reaches.
Figure ForgivenWarmth(const Cave& cave);
// On the side of `sign` the limits by which a failure is judged: the band's own, or those of before while they reach
// farther.
Figure JudgedBy(const Figure& band, const std::optional<Figure>& before, int sign);

}  // namespace rindwatch::rules::watch
