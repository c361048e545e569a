// The limits of a cave move at the start of a day on which a plan asks for something else. What is out of them then no
// fault brought there: to turn a thermostat or to carry a wheel is work of that day. Until it is over, what has not
// left the limits of the day before is told quietly.
#pragma once

#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {

struct AirWatch;

// Notices that the band has moved since the air was last judged. `by_plan`: with the day, not by a keeper's hand.
void NoteBand(AirWatch& watch, const Figure& band, bool by_plan, Instant at);
// The band of the day before, while it is forgiven; none: that of now counts alone.
std::optional<Figure> BandBefore(const AirWatch& watch, Instant at);
// As far as either of the two reaches.
Figure WiderOf(const Figure& band, const std::optional<Figure>& before);
// Rings aloud only beyond both; what lies between them for long is no dose.
Ladder Forgiving(Ladder ladder, const Ladder& before);

}  // namespace rindwatch::rules::watch
