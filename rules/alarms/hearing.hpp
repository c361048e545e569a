// What a channel takes in when one of its minutes closes: its habits, and the wheels that its air reaches.
#pragma once

#include "rules/alarms/lifecycle.hpp"
#include "rules/wheels/forecast.hpp"

namespace rindwatch::rules::watch {

// Closes every minute of the channel before `minute`, and takes in the one that was open.
void RollChannel(Body& body, Channel& channel, std::int64_t minute);
// Keeps each temperature channel's estimates in step with the wheels that its cave's probes reach.
void ListEstimates(Body& body);

// The wheels of a class by the probes of a cave: the mean of those that speak and are believed.
struct WheelNow {
  const ClassLags* lags = nullptr;
  WheelFollows follows;
  double below = 0;  // K under the air, by evaporation
  bool settled = false;
  double Core() const { return lags->lags.Core(follows.at) - below; }
  double Whole() const { return lags->lags.Mean(follows.at) - below; }
  double Rind() const { return lags->lags.Skin(follows.at); }
};
std::optional<WheelNow> WheelNowOf(const Body& body, const Cave& cave, const WheelClass& kind, Instant at);
// By some of them alone.
std::optional<WheelNow> WheelNowOf(const Body& body, const Cave& cave, const std::vector<ChannelId>& channels,
                                   const WheelClass& kind, Instant at);
// The wheels of a class at most, if since their last minute the air had stood at `air` until `at`.
std::optional<double> WarmestOf(const Body& body, const Cave& cave, const WheelClass& kind, double air, Instant at);

// Minutes of a cave's air that has risen for a while without a fall, oldest first, the last one now: of one channel
// that has them all. Empty if none rises.
std::vector<double> RisingAir(const Body& body, const std::vector<ChannelId>& channels, Instant from, Instant at);
// "How long until it matters", for each class of wheels of the cave, soonest first.
std::vector<Matter> MattersOf(const Body& body, const Cave& cave, Instant excursion_since, Instant at);
// The same for wheels in what stands inside the cave `around` and has a probe of its own.
std::vector<Matter> MattersInside(const Body& body, CaveId around, Instant excursion_since, Instant at);
// By what some of its thermometers say alone.
std::vector<Matter> MattersOf(const Body& body, const Cave& cave, const std::vector<ChannelId>& channels,
                              Instant excursion_since, Instant at);
// The same while none of its probes is heard, counted from their last word: if nothing cools it since.
std::vector<Matter> MattersUnheard(const Body& body, const Cave& cave, Instant at);
// The core of its warmest wheels by now, likewise; none: nothing is known of any.
std::optional<CoreSpan> WarmestUnheard(const Body& body, const Cave& cave, Instant at);

}  // namespace rindwatch::rules::watch
