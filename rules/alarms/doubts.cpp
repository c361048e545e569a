#include "rules/alarms/doubts.hpp"

#include <algorithm>
#include <cmath>

#include "rules/alarms/side.hpp"
#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {
namespace {

// Sooner than that what stands still alone may be calm air; temperature and humidity that stand still together, and by
// far longer than either ever did, are not. So much has to be heard for that, and so long it takes at least.
constexpr Millis kHeardAtLeast = hours{6}, kTogetherAtLeast = hours{2};
constexpr double kEndOfScale = 99.5;
constexpr double kStill = 0.4;  // points, deviation of a drowned sensor
// The usual offset of a probe from its cave's mean is followed with this time constant.
constexpr double kOffsetMinutes = 7 * 24 * 60;

std::vector<WheelId> WheelsIn(const Stake& stake) {
  std::vector<WheelId> wheels;
  wheels.reserve(stake.wheels.size());
  for (const Stake::Asking& asking : stake.wheels) wheels.push_back(asking.wheel);
  return wheels;
}

// Believed again: the air rules rest until its window holds only what came since.
void Believe(Channel& channel, Instant at) {
  channel.window.Clear();
  channel.unbroken_since = at;
  channel.doubt.dripping = {};
}

// What a stuck channel repeats, or one that drips came to.
void SayWhatItSays(Alarm& alarm, const Channel& channel) {
  std::erase_if(alarm.said, [&](const ProbeSaid& said) { return said.kind == channel.kind; });
  alarm.said.push_back({channel.probe, channel.kind, channel.Latest()});
}

void RaiseDoubt(Body& body, Channel& channel, AlarmKind kind, Instant since, Instant at, Decisions& out) {
  const Cave& cave = body.caves.at(*channel.cave);
  const Severity severity = cave.StakeOf(channel.kind).band ? Severity::kWatch : Severity::kHint;
  if (Alarm* const standing = StandingOfProbe(body, kind, channel.probe)) {
    SayWhatItSays(*standing, channel);
    // Another channel of it means more to the wheels than the one that was doubted first.
    if (severity <= standing->severity) return;
    standing->wheels = WheelsIn(cave.StakeOf(channel.kind));
    return Worsen(body, *standing, severity, at, out);
  }
  if (!MayRaise(body, kind, *channel.cave, Severity::kWatch, at)) return;
  Alarm alarm;
  alarm.kind = kind;
  alarm.severity = severity;
  alarm.cave = *channel.cave;
  alarm.probe = channel.probe;
  alarm.since = since;
  alarm.value = alarm.extreme = channel.Latest();
  alarm.wheels = WheelsIn(cave.StakeOf(channel.kind));
  SayWhatItSays(alarm, channel);
  Raise(body, std::move(alarm), at, out);
}

// Ends what no channel of the probe is doubted for any more.
void EndDoubt(Body& body, const Channel& channel, AlarmKind kind, Instant at, Decisions& out) {
  const bool still = std::ranges::any_of(body.channels, [&](const Channel& other) {
    return other.probe == channel.probe && (kind == AlarmKind::kProbeStuck ? other.doubt.stuck : other.doubt.wet);
  });
  if (still) return;
  if (Alarm* const standing = StandingOfProbe(body, kind, channel.probe)) End(body, *standing, at, out);
}

// The longest that it ever repeated itself; none: it has been heard for less than that.
std::optional<double> LongestRun(const Channel& channel, Millis heard_for, Instant at) {
  const std::int64_t longest = channel.doubt.equal_runs.Longest(at.time_since_epoch() / std::chrono::days{1});
  if (longest == 0 || !channel.habit.since || at - *channel.habit.since < heard_for) return std::nullopt;
  return static_cast<double>(longest);
}

Millis LongestBelieved(const Channel& channel, const Settings& s, Instant at) {
  const bool warmth = channel.kind == ChannelKind::kTemperature;
  const auto longest = LongestRun(channel, Days(s.stuck_first_days), at);
  if (!longest) return Minutes(warmth ? s.stuck_unlearned_temperature : s.stuck_unlearned_humidity);
  return Minutes(std::max(s.stuck_least, s.stuck_runs * *longest));
}

// A humidity at the end of its scale repeats itself by right: a box to wipe and air.
bool IsAtEndOfScale(const Channel& channel) {
  return channel.kind == ChannelKind::kHumidity && channel.Latest() >= kEndOfScale;
}

bool StandsStill(const Channel& channel, const Settings& s, Instant at) {
  const auto longest = LongestRun(channel, kHeardAtLeast, at);
  if (!longest || IsAtEndOfScale(channel) || !channel.Speaks(at)) return false;
  return *channel.heard - channel.doubt.same_since >=
         std::max(kTogetherAtLeast, Minutes(s.stuck_together_runs * *longest));
}

// Temperature and humidity of one probe stand still at once.
bool StandsStillTogether(const Body& body, const Channel& channel, const Settings& s, Instant at) {
  if (!StandsStill(channel, s, at)) return false;
  return std::ranges::any_of(body.channels, [&](const Channel& other) {
    return other.probe == channel.probe && other.kind != channel.kind && other.Judged() && other.cave &&
           StandsStill(other, s, at);
  });
}

void JudgeWet(Body& body, Channel& channel, const Settings& s, Instant at, Decisions& out) {
  Doubt& doubt = channel.doubt;
  const auto mean = channel.window.Mean();
  if (!mean || !channel.Speaks(at)) return;
  if (doubt.wet) {
    const auto recent = channel.window.Recent();
    if (!recent || *recent > s.wet_above - s.wet_dried_by) return;
    doubt.wet = false;
    Believe(channel, at);
    return EndDoubt(body, channel, AlarmKind::kProbeWet, at, out);
  }
  const bool drips = *mean > s.wet_above && channel.Settled(at) && channel.window.Deviation().value_or(1) < kStill;
  if (!drips) return;
  doubt.wet = true;
  RaiseDoubt(body, channel, AlarmKind::kProbeWet, at - Minutes(s.wet_after), at, out);
  if (Alarm* const damp = Standing(body, AlarmKind::kTooDamp, *channel.cave)) Suppress(body, *damp, at, out);
}

// How far the channels lie apart beyond what they usually do, `most_at_first` being what they may do from the start;
// learns what they usually do. Those that say the same are not apart, whatever they used to say.
double ApartBy(Body& body, const std::vector<ChannelId>& channels, double most_at_first, bool learns, Instant at) {
  struct One {
    Channel* channel;
    double mean;
  };
  std::vector<One> all;
  double sum = 0;
  for (const ChannelId id : channels) {
    Channel& channel = *body.FindChannel(id);
    const auto mean = channel.window.Mean();
    if (!mean || !channel.Speaks(at) || !channel.Settled(at) || channel.doubt.Any()) continue;
    all.push_back({&channel, *mean});
    sum += *mean;
  }
  if (all.size() < 2) return 0;
  const double middle = sum / static_cast<double>(all.size());
  const auto [lowest, highest] = std::ranges::minmax(all, {}, &One::mean);
  double least = 1e9, most = -1e9;
  for (const auto& [channel, mean] : all) {
    Doubt& doubt = channel->doubt;
    const double off = mean - middle;
    if (!doubt.offset_known) doubt.offset = std::abs(off) <= most_at_first / 2 ? off : 0;
    doubt.offset_known = true;
    const double beyond = off - doubt.offset;
    if (learns) doubt.offset += beyond / kOffsetMinutes;
    least = std::min(least, beyond);
    most = std::max(most, beyond);
  }
  return std::min(most - least, highest.mean - lowest.mean);
}

void JudgeDisagreement(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out) {
  const Settings& s = cave.settings;
  Counter& counter = cave.disagree;
  if (cave.temperature_channels.size() < 2 && cave.humidity_channels.size() < 2) {
    // Nothing is left to compare: one of them was taken down.
    counter = {};
    cave.temperature.apart = cave.humidity.apart = {};
    if (Alarm* const standing = Standing(body, AlarmKind::kProbesDisagree, id))
      End(body, *standing, at, out, Ending::kTakenDown);
    return;
  }
  const bool quiet = counter.on.beyond == Millis{0};
  // Floor and ceiling of one cave differ by 0.5 to 2 K and 3 to 8 points (common practice): who was told that its
  // probes do, and leaves them, is right, and from then on it is what they usually do.
  const Alarm* const told = Standing(body, AlarmKind::kProbesDisagree, id);
  const bool learns = quiet || (told != nullptr && told->taken);
  const double warmth = ApartBy(body, cave.temperature_channels, s.disagree_temperature, learns, at);
  const double damp = ApartBy(body, cave.humidity_channels, s.disagree_humidity, learns, at);
  cave.temperature.apart.Count(warmth >= s.disagree_temperature, kMinute);
  cave.humidity.apart.Count(damp >= s.disagree_humidity, kMinute);
  const bool by_damp = damp / s.disagree_humidity > warmth / s.disagree_temperature;
  const double share = std::max(damp / s.disagree_humidity, warmth / s.disagree_temperature);
  if (share >= 1 && quiet) counter.since = at - kMinute;
  counter.on.Count(share >= 1, kMinute);
  Finding found{.kind = AlarmKind::kProbesDisagree, .cave = id};
  if (counter.on.beyond >= Minutes(s.disagree_after)) found.severity = Severity::kWatch;
  found.back = share < s.disagree_back;
  found.off_after = Minutes(s.off_after);
  found.since = counter.since;
  found.value = found.extreme = by_damp ? damp : warmth;
  if (found.severity) found.said = SaidBy(body, by_damp ? cave.humidity_channels : cave.temperature_channels, at);
  Follow(body, found, counter.back, at, out);
}

}  // namespace

bool IsWetOver(const Body& body, CaveId cave) {
  return std::ranges::any_of(body.channels,
                             [&](const Channel& channel) { return channel.cave == cave && channel.doubt.wet; });
}

void DoubtReading(Body& body, Channel& channel, std::int64_t before, Instant at, Decisions& out) {
  Doubt& doubt = channel.doubt;
  const bool first = doubt.same_since == Instant{};
  if (first || channel.latest != before) {
    if (!first && !doubt.stuck) {
      // One that never says the same for a minute has learned as well.
      doubt.equal_runs.Learn(at.time_since_epoch() / std::chrono::days{1},
                             std::max<std::int64_t>(1, (at - doubt.same_since) / minutes{1}));
    }
    doubt.same_since = at;
    if (!doubt.stuck) return;
    doubt.stuck = false;
    Believe(channel, at);
    return EndDoubt(body, channel, AlarmKind::kProbeStuck, at, out);
  }
  if (doubt.stuck) return;
  if (IsAtEndOfScale(channel)) return;
  // Counted by what was heard: a probe that speaks only when something changes has long gaps, not long runs.
  const Settings& s = body.caves.at(*channel.cave).settings;
  if (at - doubt.same_since < LongestBelieved(channel, s, at) && !StandsStillTogether(body, channel, s, at)) return;
  doubt.stuck = true;
  RaiseDoubt(body, channel, AlarmKind::kProbeStuck, doubt.same_since, at, out);
}

void DoubtMinute(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out) {
  if (!cave.inside) {  // a shut box stands at 100 % by right
    for (const ChannelId channel : cave.humidity_channels) {
      JudgeWet(body, *body.FindChannel(channel), cave.settings, at, out);
    }
  }
  JudgeDisagreement(body, id, cave, at, out);
}

}  // namespace rindwatch::rules::watch
