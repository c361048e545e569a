// Judges the air of a cave: the mean of one kind of channel against the limits in force, once a minute.
#pragma once

#include "rules/alarms/lifecycle.hpp"

namespace rindwatch::rules::watch {

// The mean of the means of a cave's channels of one kind, those that speak and have settled first.
struct AirMean {
  std::optional<double> mean;                 // none while nothing speaks
  std::optional<double> recent;               // of the last third of the window
  std::optional<double> before, long_before;  // one and two windows ago
  bool settled = false;                       // the air rules may lean on it
  bool doubted = false;                       // something speaks, but stuck or wet
  std::optional<double> last;                 // of the last words of those
  std::optional<double> latest;               // of the channel that spoke last
  std::optional<Instant> latest_at;
  int window_minutes = 0;
};
AirMean MeanOf(const Body& body, const std::vector<ChannelId>& channels, Instant at);

// What each of them says that speaks, has settled and is believed, in the order of the channels.
std::vector<ProbeSaid> SaidBy(const Body& body, const std::vector<ChannelId>& channels, Instant at);

// Judges the minute that ends at `at`.
void JudgeMinute(Body& body, CaveId id, Cave& cave, ChannelKind kind, Instant at, Decisions& out);
// A cave without a limit is not judged: what stood there ends.
void EndUnjudged(Body& body, CaveId id, Cave& cave, ChannelKind kind, Instant at, Decisions& out);

// For the page. `watch` remembers which side the mean was on; null where nobody remembers.
struct AirState {
  CaveState state = CaveState::kInBand;
  int side = 0;
  std::optional<Millis> leaves_after = {};  // of what drifts: as far as it can be foreseen
};
// +1 rising, -1 falling, 0 neither, or turning: the mean lies off that of one window ago, and the last third of the
// window on the same side of it.
int TrendOf(ChannelKind kind, const AirMean& air);
AirState StateOf(ChannelKind kind, const AirMean& air, const Figure& band, const AirWatch* watch);

}  // namespace rindwatch::rules::watch
