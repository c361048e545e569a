#include "rules/alarms/more_kinds.hpp"

#include <algorithm>

#include "rules/air/saturation.hpp"
#include "rules/alarms/evidence.hpp"
#include "rules/alarms/gas_limits.hpp"
#include "rules/alarms/hearing.hpp"
#include "rules/alarms/one_event.hpp"
#include "rules/alarms/presence.hpp"
#include "rules/alarms/side.hpp"
#include "rules/alarms/stake.hpp"
#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {
namespace {

constexpr Millis kLooksEvery = minutes{5};  // at the rinds
constexpr double kFull = 99;                // percent of a battery

std::vector<WheelId> WheelsOf(const Stake& stake) {
  std::vector<WheelId> wheels;
  wheels.reserve(stake.wheels.size());
  for (const Stake::Asking& asking : stake.wheels) wheels.push_back(asking.wheel);
  return wheels;
}

// Gas is judged minute by minute and is over only when it has been low for a while.
void JudgeOneGas(Body& body, CaveId id, const Cave& cave, Counter& counter, AlarmKind kind, ChannelKind gas, Instant at,
                 Decisions& out) {
  const GasLimits limits = GasLimitsOf(gas, cave.settings);
  std::optional<double> most;
  for (const ChannelId channel_id : cave.other_channels) {
    const Channel& channel = *body.FindChannel(channel_id);
    if (channel.kind != gas || !channel.Speaks(at)) continue;
    most = std::max(most.value_or(channel.Latest()), channel.Latest());
  }
  if (!most) return;
  const bool beyond = *most >= limits.watch;
  if (beyond && counter.on.beyond == Millis{0}) {
    counter.since = at - kMinute;
    counter.extreme = *most;
  }
  counter.extreme = std::max(counter.extreme, *most);
  counter.on.Count(beyond, kMinute);
  Finding found{.kind = kind, .cave = id};
  const Severity grade = limits.Of(*most);
  if (grade == Severity::kUrgent) {
    found.severity = Severity::kUrgent;  // people first: at once
  } else if (grade == Severity::kAct && counter.on.beyond >= Minutes(cave.settings.gas_act_after)) {
    found.severity = Severity::kAct;
  } else if (counter.on.beyond >= Minutes(cave.settings.gas_watch_after)) {
    found.severity = Severity::kWatch;
  }
  found.back = *most < limits.watch * cave.settings.gas_back;
  found.off_after = Minutes(cave.settings.gas_over_after);
  found.since = counter.since;
  found.value = *most;
  found.extreme = counter.extreme;
  Follow(body, found, counter.back, at, out);
}

}  // namespace

void JudgeGas(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out) {
  JudgeOneGas(body, id, cave, cave.co2, AlarmKind::kCarbonDioxide, ChannelKind::kCarbonDioxide, at, out);
  JudgeOneGas(body, id, cave, cave.ammonia, AlarmKind::kAmmonia, ChannelKind::kAmmonia, at, out);
}

namespace {

// How far the coldest rind is above the dew point, K, and which wheels are wet.
struct Dew {
  std::optional<double> coldest;
  std::vector<WheelId> wet;
};

// A wheel that is measured says more of itself than what is reckoned of it; of which one it is nobody told, so that the
// others are reckoned as before.
std::optional<double> ColdestMeasured(const Body& body, const Cave& cave, Instant at) {
  std::optional<double> coldest;
  for (const ChannelId id : cave.other_channels) {
    const Channel& channel = *body.FindChannel(id);
    if (channel.kind != ChannelKind::kWheelTemperature || !channel.Speaks(at)) continue;
    coldest = std::min(coldest.value_or(channel.Latest()), channel.Latest());
  }
  return coldest;
}

Dew DewOn(const Body& body, const Cave& cave, double dew_point, Instant at) {
  Dew dew;
  std::vector<WheelId> all;
  for (const Stake::ClassAsking& asking : cave.temperature_stake.classes) {
    if (asking.kind.boxed) continue;
    all.insert(all.end(), asking.wheels.begin(), asking.wheels.end());
    const auto now = WheelNowOf(body, cave, asking.kind, at);
    if (!now || !now->settled) continue;
    const double above = now->Rind() - dew_point;
    dew.coldest = std::min(dew.coldest.value_or(above), above);
    if (above < cave.settings.condensation_within)
      dew.wet.insert(dew.wet.end(), asking.wheels.begin(), asking.wheels.end());
  }
  if (const auto measured = ColdestMeasured(body, cave, at)) {
    const double above = *measured - dew_point;
    dew.coldest = std::min(dew.coldest.value_or(above), above);
    // It may be any of them.
    if (above < cave.settings.condensation_within && dew.wet.empty()) dew.wet = std::move(all);
  }
  std::ranges::sort(dew.wet);
  return dew;
}

}  // namespace

void JudgeCondensation(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out) {
  // A shut box sweats by right: it is wiped and aired.
  const bool any = std::ranges::any_of(cave.temperature_stake.classes,
                                       [](const Stake::ClassAsking& asking) { return !asking.kind.boxed; });
  const bool measured = !cave.temperature_channels.empty() && !cave.humidity_channels.empty();
  if (cave.inside || !measured || !any) {
    if (Alarm* const standing = Standing(body, AlarmKind::kCondensation, id))
      End(body, *standing, at, out, measured ? Ending::kNotAsked : Ending::kTakenDown);
    return;
  }
  if (at.time_since_epoch() % kLooksEvery != Millis{0}) return;
  const AirMean warmth = MeanOf(body, cave.temperature_channels, at), damp = MeanOf(body, cave.humidity_channels, at);
  if (!warmth.recent || !damp.recent || !warmth.settled || !damp.settled) return;
  const auto dew_point = DewPoint({*warmth.recent}, {*damp.recent});
  if (!dew_point) return;
  Dew dew = DewOn(body, cave, dew_point->value, at);
  if (!dew.coldest) return;
  const double coldest = *dew.coldest;
  Counter& counter = cave.condensation;
  // What was told to be wet is so until its film is gone: the air of a plant comes and goes by as much in each cycle.
  const double film_gone = cave.settings.condensation_within + cave.settings.condensation_dry_by;
  const double dry_above = Standing(body, AlarmKind::kCondensation, id) ? film_gone : cave.settings.condensation_within;
  const bool beyond = coldest < dry_above;
  if (beyond && counter.on.beyond == Millis{0}) {
    counter.since = at - kLooksEvery;
    counter.extreme = coldest;
  }
  counter.extreme = std::min(counter.extreme, coldest);
  counter.on.Count(beyond, kLooksEvery);
  // Cold wheels in air that has become warm are wet: that is one event, and told as too warm, quietly or loudly.
  if (Standing(body, AlarmKind::kTooWarm, id) && !Standing(body, AlarmKind::kCondensation, id)) return;
  Finding found{.kind = AlarmKind::kCondensation, .cave = id};
  if (counter.on.beyond >= Minutes(cave.settings.condensation_act_after)) {
    found.severity = Severity::kAct;
  } else if (counter.on.beyond >= Minutes(cave.settings.condensation_watch_after) +
                                      (cave.temperature.warm.IsOpen() ? kSameEvent : Millis{0})) {
    // Air that is still on its way up is perhaps about to ring itself.
    found.severity = Severity::kWatch;
  }
  found.every = kLooksEvery;
  found.back = coldest > film_gone;
  found.off_after = Minutes(cave.settings.off_after);
  found.since = counter.since;
  found.value = coldest;
  found.extreme = counter.extreme;
  found.wheels = std::move(dew.wet);
  Follow(body, found, counter.back, at, out);
}

namespace {

// As long as it is not known how its air usually is, that has to reach the edge of its band before it has risen.
constexpr Millis kReachesEdge = minutes{20};

bool RisesAfterRound(const Body& body, const Cave& cave, Instant since) {
  return BeganWithRound(cave, since) || (!HasLearned(body, cave) && since <= *cave.tended + kReachesEdge);
}

// Its last minutes lie well under those before, which a mean of ten shows only later.
bool FallsNow(const Body& body, const Cave& cave, Instant at) {
  constexpr double kFallsBy = 0.3;  // K, from eight minutes ago to now
  return std::ranges::any_of(cave.temperature_channels, [&](ChannelId id) {
    const Channel& channel = *body.FindChannel(id);
    if (!channel.Speaks(at) || channel.doubt.Any()) return false;
    const auto now = channel.window.Between(1, 3), before = channel.window.Between(6, 8);
    return now && before && *now <= *before - kFallsBy;
  });
}

}  // namespace

void JudgeAfterRound(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out) {
  Alarm* const standing = Standing(body, AlarmKind::kDoorOpen, id);
  const Excursion& warm = cave.temperature.warm;
  // Nobody follows whether its air turns.
  const bool unfollowed = cave.ready_cheese || FollowsAnother(body, id);
  // A pause on the way is no door that was shut.
  const bool answered = !warm.IsOpen() || warm.IsAnswered(cave.settings, at);
  if (warm.IsOpen() && warm.Now().asked > 0 && answered) cave.door_answered = at;
  if (standing && standing->why == Why::kAfterRound && (unfollowed || answered)) {
    return End(body, *standing, at, out, answered ? Ending::kReturned : Ending::kNotAsked);
  }
  if (cave.tended_judged || !cave.tended) return;
  const Instant asks_from = *cave.tended + Minutes(cave.settings.round_turns_after);
  if (at < asks_from) return;
  cave.tended_judged = warm.IsOpen() || HasLearned(body, cave) || at >= asks_from + kReachesEdge;
  const AirMean air = MeanOf(body, cave.temperature_channels, at);
  // It began while somebody was there, and it does not turn.
  if (standing || !warm.IsOpen() || !RisesAfterRound(body, cave, warm.Now().since) || warm.HasTurned() || !air.recent ||
      cave.door_shut || FallsNow(body, cave, at))
    return;
  if (!MayRaise(body, AlarmKind::kDoorOpen, id, Severity::kWatch, at) || IsAnsweredLoudly(body, id)) return;
  Alarm alarm;
  alarm.kind = AlarmKind::kDoorOpen;
  alarm.severity = Severity::kWatch;
  alarm.cave = id;
  alarm.why = Why::kAfterRound;
  alarm.since = warm.Now().since;
  alarm.value = alarm.extreme = *air.recent;
  alarm.wheels = WheelsOf(cave.temperature_stake);
  cave.temperature.warm.NoteAsked();
  Raise(body, std::move(alarm), at, out);
}

void HearBattery(Body& body, const Channel& channel, Instant at, Decisions& out) {
  const Settings& s = body.caves.at(*channel.cave).settings;
  const double left = channel.Latest();
  Finding found{.kind = AlarmKind::kBatteryLow, .cave = *channel.cave, .probe = channel.probe};
  if (left <= s.battery_hint) found.severity = left <= s.battery_watch ? Severity::kWatch : Severity::kHint;
  // A new one is back, whatever the two come to.
  found.back = left > std::min(s.battery_hint + s.battery_back, kFull);
  found.since = at;
  found.value = found.extreme = left;
  Millis unused{0};
  Follow(body, found, unused, at, out);
}

void HearDoor(Body& body, CaveId id, Cave& cave, bool open, Instant at, Decisions& out) {
  if (open && !cave.door_open) cave.door_open = at;
  if (open || !cave.door_open) return;
  cave.door_open.reset();
  cave.door_shut = at;
  Alarm* const standing = Standing(body, AlarmKind::kDoorOpen, id);
  if (standing && standing->why == Why::kContact) End(body, *standing, at, out);
}

std::optional<Instant> DoorRingsAt(const Body& body, CaveId id, const Cave& cave) {
  if (!cave.door_open) return std::nullopt;
  const bool rung = std::ranges::any_of(body.alarms, [id](const Alarm& alarm) {
    return alarm.kind == AlarmKind::kDoorOpen && alarm.cave == id && !alarm.over && alarm.why == Why::kContact;
  });
  // Against gas it was opened on purpose.
  const Instant from = std::max(*cave.door_open, cave.gas_over.value_or(*cave.door_open));
  return rung ? std::nullopt : std::optional<Instant>{from + Minutes(cave.settings.door_act_after)};
}

void JudgeDoor(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out) {
  const auto rings = DoorRingsAt(body, id, cave);
  if (!rings || at < *rings || !MayRaise(body, AlarmKind::kDoorOpen, id, Severity::kAct, at)) return;
  if (Alarm* const guessed = Standing(body, AlarmKind::kDoorOpen, id)) {
    guessed->why = Why::kContact;
    if (guessed->severity < Severity::kAct) Worsen(body, *guessed, Severity::kAct, at, out);
    return;
  }
  Alarm alarm;
  alarm.kind = AlarmKind::kDoorOpen;
  alarm.severity = Severity::kAct;
  alarm.cave = id;
  alarm.why = Why::kContact;
  alarm.since = *cave.door_open;
  const AirMean air = MeanOf(body, cave.temperature_channels, at);
  alarm.value = alarm.extreme = air.recent.value_or(0);
  alarm.wheels = WheelsOf(cave.temperature_stake);
  Raise(body, std::move(alarm), at, out);
}

}  // namespace rindwatch::rules::watch
