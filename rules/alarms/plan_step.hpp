// The limits of a cave move where what lies in it comes to ask for something else: with a day of its plan, with a wrap
// that is signed, with a wheel that is laid in. What is out of them then no fault brought there: to turn a thermostat
// or to carry a wheel is the keeper's. Until the air was seen inside, what has not left the limits of before is told
// once, quietly.
#pragma once

#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {

struct AirWatch;
struct Cave;

// Notices that the band has moved, and that the air is inside. `typed`: by a keeper, who means it at once.
void NoteBand(AirWatch& watch, const Figure& band, double mean, bool typed, Instant at);
// As far as the band reaches, or the one before it while that is forgiven.
Figure WiderOf(const Figure& band, const std::optional<Figure>& before);
// The band of a cave's temperature, which is not none, as far as that reaches.
Figure ForgivenWarmth(const Cave& cave);
// Rings aloud only beyond both; what lies between them for long is no dose.
Ladder Forgiving(Ladder ladder, const Ladder& before);

}  // namespace rindwatch::rules::watch
