// How the air of an alarm stands now and whereto it goes: one answer for page, list and letter. The loop's thread.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "daemon/api/context.hpp"
#include "rules/alarms/engine.hpp"
#include "rules/alarms/first.hpp"

namespace rindwatch {

// What it is judged by, as it is now; of one that is over what rang. None: nobody knows, for what measures it is
// silent or doubted.
std::optional<double> ValueNow(const ApiContext& context, const rules::Alarm& alarm);
// +1 rises, -1 falls, 0 neither, nobody knows, or it is over.
int TrendNow(const ApiContext& context, const rules::Alarm& alarm);
// Whether its air turns (kTurning) or lies inside again (kBack); none: it goes on, is over, or of no air.
std::optional<rules::Knowing> CourseNow(const ApiContext& context, const rules::Alarm& alarm);
// Its air had left the band and lies in it again, while the alarm waits for it to stay or to come further in.
bool IsBackInBand(const ApiContext& context, const rules::Alarm& alarm);
// Of an alarm of the air that lasts: nobody knows that air now.
bool IsAirUnknown(const ApiContext& context, const rules::Alarm& alarm);
// Where its air must come to for it to end, of air that lies in the band again but not yet past the dead band.
std::optional<double> EndsAt(const ApiContext& context, const rules::Alarm& alarm);
// Since when its air lies in the band again, of one that is inside or waits for where it ends.
std::optional<rules::Instant> InsideSince(const ApiContext& context, const rules::Alarm& alarm);
// Boxes inside its cave that follow later: still out on that side.
std::vector<std::string> StillOut(const ApiContext& context, const rules::Alarm& alarm);

// The last reading of a cave's air where it lies far from `mean`, which lags behind air that was warmed by a defrost,
// or by a door, and falls again. None: it lies near, or several thermometers say what the air is.
std::optional<double> LatestFarFrom(const ApiContext& context, rules::CaveId cave, std::optional<double> mean);

}  // namespace rindwatch
