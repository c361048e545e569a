// Every limit and delay of the watch, each with where it comes from. "Trade": common practice, no source. "Model": a
// numerical study on a physical model of a ripening fridge (20 seeds of 90 days, minute samples); simulated, no real
// fridge, so the order of size counts and not the digit.
#pragma once

#include <chrono>
#include <optional>

#include "rules/alarms/engine.hpp"
#include "rules/alarms/settings.hpp"

namespace rindwatch::rules::watch {

using std::chrono::hours;
using std::chrono::minutes;

// Air is judged on a mean over at least one plant cycle. Trade: a fridge left shut runs 5 min on and 10 off, a slow one
// half an hour; humidity saws by 10 to 30 points with each cycle and swings longer.
inline constexpr int kTemperatureWindowMinutes = 30;
inline constexpr int kHumidityWindowMinutes = 60;

// A delay counts the time beyond only; a return shorter than this pauses it, a longer one begins anew. Model: a delay
// that short returns reset lets a failure swing past it, one that nothing resets chatters (193 rings against 8).
inline constexpr Millis kPause = minutes{10};

// The distances and delays of each kind are settings (rules/alarms/settings.hpp). Too warm, urgent: trade says 18
// degrees for soft cheese and 22 for any; those ceilings mean a cave whose tolerance ends near 14, so they are kept as
// distances that move with the band and never lie inside it. Too cold, act: trade says 3 degrees in a cave whose
// tolerance ends near 10.5, so 7.5 K beyond the edge, but at the latest at freezing. A band that reaches below freezing
// moves both down to its own edge. Too damp has no ceiling of its own: a band that ends at 100 % has no damp side.
inline constexpr double kFreezing = 0.0;

// Soft and blue cheese feels air first (Plan::hardiness: soft 0, blue 1, semi-hard 2, hard 3).
inline constexpr int kTenderUpTo = 1;

// Probe silent: unknown after 3 missed readings.
inline constexpr int kMissedReadings = 3;
// A wheel of unknown weight counts as small if it is of a soft family.
inline constexpr int kSoft = 0;

// How often a probe speaks, at the most, until its last gaps have told.
inline constexpr Millis kAssumedInterval = minutes{5};
inline constexpr Millis kLongestInterval = minutes{60};
inline constexpr Millis kShortestMissed = minutes{1};  // the judge's own grain

// A box that was still out when the alarm around it ended recovers as long as it comes nearer to its band by a third of
// what is left, and by this at least, before it would ring. Trade: as below, whatever the box is made of.
inline constexpr double kRecoversBy = 0.1, kRecoversShare = 1.0 / 3;
// A box that leaves its band at most this long before the cave around it does so in the same event. Its probe may stand
// a little higher or closer to the door.
inline constexpr Millis kSameEvent = minutes{15};
// A box whose own alarm another one tells of is back by so long after the air around it: twice the time in which a
// wheel of 2 kg follows two thirds.
inline constexpr Millis kFollowsFor = hours{6};
// A box whose last ten minutes lie this much nearer to its band than its mean is on its way back: 0.3 K an hour. Trade:
// a shut box follows its fridge within hours, so from an act limit it comes back at several times that.
inline constexpr double kOnItsWayBack = 0.05;

// A daemon that was away for less than this was as good as there (an update, a restart): it misses no more than a short
// return does. A longer absence proves nothing about the air, and none about any probe.
inline constexpr Millis kBriefAbsence = minutes{10};
// What was counted before a rest longer than this is forgotten: the air between is unknown.
inline constexpr Millis kForgetAfter = minutes{60};

// Drifting: the mean moved the same way over the last two windows, by at least this in both together, and a straight
// line leaves the band within four windows. Only a state of the page: a line through the air is a poor prophet of when.
inline constexpr double kTemperatureDrift = 0.3;
inline constexpr double kHumidityDrift = 2.0;
inline constexpr int kDriftHorizonWindows = 4;
// Rising or falling: the mean moved by this much over one window. Model: a dead plant's air rises by half a kelvin to
// one in an hour, and the mean over a plant cycle stands still.
inline constexpr double kTemperatureTrend = 0.15;
inline constexpr double kHumidityTrend = 1.0;

// What no air can be: such a reading is a fault of the probe and counts as not spoken.
inline constexpr double kLeastTemperature = -60, kMostTemperature = 100;
// What a thermometer on one wire says before it has measured once: the first word of one that has just got power.
inline constexpr std::int64_t kNotMeasuredYet = 85'000;  // milli-units
inline constexpr double kLeastHumidity = 0, kMostHumidity = 110;
inline constexpr double kMostOfAnything = 1e6;  // ppm, watts, grams

// The steps of one alarm kind for one band. `side` is +1 beyond the high edge, -1 beyond the low one.
struct Ladder {
  int side = 1;
  double edge = 0;
  double act_at = 0;
  Millis watch_after{}, act_after{};
  std::optional<double> act_dose;  // degree-hours or point-hours beyond the edge
  std::optional<double> urgent_at;
  Millis urgent_after{};

  bool Beyond(double value, double limit) const { return side > 0 ? value > limit : value < limit; }
};

// Only for the four kinds of air out of band. `ready`: finished cheese, kept cold.
Ladder LadderFor(AlarmKind kind, const Figure& band, bool tender, const Settings& settings, bool ready = false);
inline Millis Minutes(double count) { return Millis{static_cast<Millis::rep>(count * 60'000)}; }
inline Millis Days(double count) { return Minutes(count * 24 * 60); }
// How far inside the edge counts as back. Never more than a share of the band, or a narrow one could not be re-entered.
double DeadbandOf(ChannelKind kind, const Figure& band, const Settings& settings);
// Half of the last digit that is shown: tenths of a degree, whole points.
double HalfOfShown(ChannelKind kind);

}  // namespace rindwatch::rules::watch
