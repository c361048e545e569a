// One side of the air of one cave in the minute that is judged, and how what stands there comes back.
#pragma once

#include <algorithm>
#include <optional>
#include <vector>

#include "rules/alarms/air.hpp"
#include "rules/alarms/evidence.hpp"
#include "rules/alarms/plan_step.hpp"
#include "rules/alarms/side.hpp"
#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {

// Too warm, too cold, too damp, too dry.
AlarmKind KindOf(ChannelKind kind, int side);

// One side of the air of one cave in one minute.
struct Judged {
  CaveId cave;
  const Stake& stake;
  ChannelKind channel;
  int sign;
  const AirMean& air;
  Instant at;
  const Settings& settings;
  bool ready;
  std::optional<Figure> before;      // the band of before the last step, while that is forgiven
  std::optional<Evidence> evidence;  // besides the air's distance from the band
  std::vector<ProbeSaid> said{};     // while its probes contradict each other

  AlarmKind Kind() const { return KindOf(channel, sign); }
  Ladder LimitsBy(const Figure& band) const { return LadderFor(Kind(), band, stake.tender, settings, ready); }
  Figure Band() const { return JudgedBy(*stake.band, before, sign); }
  Ladder Limits() const { return LimitsBy(Band()); }
  Ladder OwnLimits() const { return LimitsBy(*stake.band); }
  double Mean() const { return *air.mean; }
  double Recent() const { return air.recent.value_or(*air.mean); }
  double Deadband() const { return DeadbandOf(channel, *stake.band, settings); }
  // Of the probe that is worse for the wheels.
  double Worst() const {
    double worst = Mean();
    for (const ProbeSaid& one : said) worst = sign > 0 ? std::max(worst, one.value) : std::min(worst, one.value);
    return worst;
  }
};

void AddTouched(Alarm& alarm, const std::vector<WheelId>& wheels);

// Counts for how long the air is back, past its deadband and at all; `held`: something else than the band keeps it
// open.
void CountBack(const Judged& judged, const Ladder& ladder, double deadband, WayBack& way, bool held);
// As if it were back by the deadband since so long: air that stays inside at all for long enough is back too, or a cave
// that is kept near the edge of its band would never be.
Millis BackFor(const WayBack& way, const Settings& s);
// Of an alarm whose air was back for long enough.
void EndBack(Body& body, const Judged& judged, const WayBack& way, Alarm& alarm, Decisions& out);

}  // namespace rindwatch::rules::watch
