#include "rules/alarms/plan_step.hpp"

#include <algorithm>

#include "rules/alarms/body.hpp"

namespace rindwatch::rules::watch {

bool SameLimits(const Figure& a, const Figure& b) { return a.low == b.low && a.high == b.high; }

void NoteBand(AirWatch& watch, const Figure& band, double mean, bool typed, Instant at) {
  if (!watch.band || !SameLimits(*watch.band, band)) {
    // What was not yet reached of an earlier step is forgiven as before.
    if (!watch.before) watch.forgiven = at;
    watch.before = watch.band && !typed ? std::optional(WiderOf(*watch.band, watch.before)) : std::nullopt;
    watch.moved = at;
    watch.band = band;
  }
  if (watch.before && mean >= band.low && mean <= band.high) watch.before.reset();
}

Figure WiderOf(const Figure& band, const std::optional<Figure>& before) {
  if (!before) return band;
  return {std::min(band.low, before->low), std::max(band.high, before->high), band.source};
}

Figure ForgivenWarmth(const Cave& cave) { return WiderOf(*cave.temperature_stake.band, cave.temperature.before); }

Figure JudgedBy(const Figure& band, const std::optional<Figure>& before, int sign) {
  if (!before) return band;
  return (sign > 0 ? before->high > band.high : before->low < band.low) ? *before : band;
}

}  // namespace rindwatch::rules::watch
