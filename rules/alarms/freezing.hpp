// How long until falling air is at freezing, and whether air that comes back does so before long.
#pragma once

#include "rules/alarms/air.hpp"

namespace rindwatch::rules::watch {

// How fast air falls: by its last minutes and by its last two windows, whichever is slower, so that neither a cycle of
// the plant nor a fall that is over counts; kelvins a minute. None: it does not fall, or too little of it was heard.
std::optional<double> FallOf(const AirMean& air);
// At that pace, from its last word on. Zero: it is there. None: it does not fall, or is not there within a day. What
// cools it cools less the colder it is, so this is rather too soon than too late.
std::optional<Millis> FreezesAfter(const AirMean& air, double freezing);

// Whether air that lies beyond `edge`, on the side of `sign`, is back at it within `span` at the pace of its last
// minutes. A cold one has to have come up for two windows: a defrost of a plant that runs on lasts less.
bool IsBackWithin(const AirMean& air, double edge, int sign, Millis span);

}  // namespace rindwatch::rules::watch
