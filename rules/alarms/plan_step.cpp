#include "rules/alarms/plan_step.hpp"

#include <algorithm>

#include "rules/alarms/body.hpp"

namespace rindwatch::rules::watch {
namespace {

// The day on which the plan asks for something else (common practice, no source).
constexpr Millis kForgivenFor = hours{24};

bool SameLimits(const Figure& a, const Figure& b) { return a.low == b.low && a.high == b.high; }

}  // namespace

void NoteBand(AirWatch& watch, const Figure& band, bool by_plan, Instant at) {
  if (watch.band && SameLimits(*watch.band, band)) return;
  watch.before = by_plan ? watch.band : std::nullopt;
  watch.moved = at;
  watch.band = band;
}

std::optional<Figure> BandBefore(const AirWatch& watch, Instant at) {
  return watch.before && at < watch.moved + kForgivenFor ? watch.before : std::nullopt;
}

Figure WiderOf(const Figure& band, const std::optional<Figure>& before) {
  if (!before) return band;
  return {std::min(band.low, before->low), std::max(band.high, before->high), band.source};
}

Ladder Forgiving(Ladder ladder, const Ladder& before) {
  const auto farther = [&](double a, double b) { return ladder.side > 0 ? std::max(a, b) : std::min(a, b); };
  ladder.act_at = farther(ladder.act_at, before.act_at);
  if (ladder.urgent_at && before.urgent_at) ladder.urgent_at = farther(*ladder.urgent_at, *before.urgent_at);
  ladder.act_dose.reset();
  return ladder;
}

}  // namespace rindwatch::rules::watch
