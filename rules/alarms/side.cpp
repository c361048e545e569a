#include "rules/alarms/side.hpp"

#include <algorithm>
#include <cmath>

#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {
namespace {

// A box that trails the cave around it has come nearer to its band, and nothing in it is urgent.
bool Recovers(const Ladder& ladder, const Side& side, double mean) {
  if (side.edge.beyond == Millis{0} || side.urgent.beyond > Millis{0}) return false;
  const double left = ladder.side * (side.extreme - ladder.edge), nearer = ladder.side * (side.extreme - mean);
  return nearer >= std::max(kRecoversBy, left * kRecoversShare);
}

}  // namespace

bool IsBack(const Ladder& ladder, double mean, double deadband) {
  return ladder.side > 0 ? mean <= ladder.edge - deadband : mean >= ladder.edge + deadband;
}

std::optional<Severity> Reached(const Ladder& ladder, const Side& side, double recent) {
  if (ladder.urgent_at && side.urgent.beyond >= ladder.urgent_after && ladder.Beyond(recent, *ladder.urgent_at)) {
    return Severity::kUrgent;
  }
  if (side.act.beyond >= ladder.act_after && ladder.Beyond(recent, ladder.act_at)) return Severity::kAct;
  if (!ladder.Beyond(recent, ladder.edge)) return std::nullopt;
  if (ladder.act_dose && side.dose >= *ladder.act_dose) return Severity::kAct;
  if (side.edge.beyond >= ladder.watch_after) return Severity::kWatch;
  return std::nullopt;
}

void CountAnew(Side& side) {
  const Side before = side;
  side = {};
  side.out = before.out;
  side.shown = before.shown;
  side.trails = before.trails;
}

void Count(const Ladder& ladder, Side& side, double mean, double deadband, Instant at) {
  const bool beyond = ladder.Beyond(mean, ladder.edge);
  if (beyond && side.edge.beyond == Millis{0}) {
    side.since = at - kMinute;
    side.extreme = mean;
  }
  side.edge.Count(beyond, kMinute);
  side.act.Count(ladder.Beyond(mean, ladder.act_at), kMinute);
  if (ladder.urgent_at) side.urgent.Count(ladder.Beyond(mean, *ladder.urgent_at), kMinute);
  if (beyond) {
    side.dose += std::abs(mean - ladder.edge) / 60.0;
    side.beyond += kMinute;
    if (ladder.Beyond(mean, side.extreme)) side.extreme = mean;
  }
  if (side.trails && Recovers(ladder, side, mean)) CountAnew(side);
  side.out = beyond || (side.out && !IsBack(ladder, mean, deadband));
  side.trails = side.trails && side.out;
}

}  // namespace rindwatch::rules::watch
