#include "rules/alarms/silence.hpp"

#include <algorithm>

#include "rules/alarms/air.hpp"
#include "rules/alarms/channels.hpp"
#include "rules/alarms/one_event.hpp"
#include "rules/alarms/power.hpp"
#include "rules/alarms/presence.hpp"
#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {
namespace {

// What hangs on a probe: its channels that ought to speak, and whatever they are there for.
// A probe is missed at the latest after this.
constexpr Millis kLongestAwaited = hours{3};
// No silence is told sooner.
constexpr Millis kSoonestWatch = minutes{5};
// What becomes an act so long after the morning did not wait for that.
constexpr Millis kWaitsForIt = hours{1};

struct Duty {
  std::optional<CaveId> cave;             // the first it hangs in
  Millis missed_after = kLongestAwaited;  // the least of its channels, and no later than the alarm itself
  bool at_stake = false;
  bool small = false;
  bool gas = false;  // people go in by its word
  std::vector<WheelId> wheels;
  const Channel* last = nullptr;  // spoke last; of one message the temperature
  std::optional<Instant> heard;   // its last word
  const Settings* settings = nullptr;
};

// The least of the channels that have spoken; of those that ought to, as long as none has.
Millis MissedAfter(const Body& body, ProbeId id) {
  std::optional<Millis> spoken, any;
  for (const Channel& channel : body.channels) {
    if (channel.probe != id || !channel.OughtToSpeak() || !channel.cave) continue;
    any = std::min(any.value_or(kLongestAwaited), channel.MissedAfter());
    if (channel.heard) spoken = std::min(spoken.value_or(kLongestAwaited), channel.MissedAfter());
  }
  return spoken.value_or(any.value_or(kLongestAwaited));
}

Duty DutyOf(const Body& body, ProbeId id) {
  Duty duty;
  duty.missed_after = MissedAfter(body, id);
  for (const Channel& channel : body.channels) {
    if (channel.probe != id || !channel.OughtToSpeak() || !channel.cave) continue;
    if (!duty.cave) duty.cave = channel.cave;
    const Cave& cave = body.caves.at(*channel.cave);
    duty.settings = &cave.settings;
    if (channel.Judged()) {
      const Stake& stake = cave.StakeOf(channel.kind);
      duty.at_stake |= stake.band.has_value();
      duty.small |= stake.small;
      for (const Stake::Asking& asking : stake.wheels) duty.wheels.push_back(asking.wheel);
    }
    duty.gas |= IsGas(channel.kind);
    duty.heard = std::max(duty.heard, channel.heard);
    const bool later = channel.heard && (duty.last == nullptr || channel.measured > duty.last->measured);
    const bool same = channel.heard && duty.last != nullptr && channel.measured == duty.last->measured;
    if (later || (same && channel.kind < duty.last->kind)) duty.last = &channel;
  }
  duty.at_stake |= duty.gas;
  std::ranges::sort(duty.wheels);
  const auto repeats = std::ranges::unique(duty.wheels);
  duty.wheels.erase(repeats.begin(), repeats.end());
  return duty;
}

// The last hours were calm and something else still speaks for the cave: another probe there or around it, or the
// plant.
bool MayWaitForMorning(const Body& body, ProbeId id, const Duty& duty, const Probe& probe, Instant at) {
  const auto near = TogetherWith(body, *duty.cave);
  const Millis calm_for = Minutes(duty.settings->night_calm_for);
  bool neighbour = false;
  for (const Channel& channel : body.channels) {
    if (channel.probe == id || !channel.cave || std::ranges::count(near, *channel.cave) == 0) continue;
    neighbour |= channel.OughtToSpeak() && channel.Speaks(at);
  }
  if (!neighbour) return false;
  const bool rings = std::ranges::any_of(body.alarms, [&](const Alarm& alarm) {
    const bool apart = alarm.kind == AlarmKind::kProbeSilent || alarm.kind == AlarmKind::kBatteryLow;
    return !apart && std::ranges::count(near, alarm.cave) > 0 &&
           (!alarm.over || *alarm.over > probe.quiet_since - calm_for);
  });
  return !rings && !body.caves.at(*duty.cave).temperature.warm.IsOpen();
}

bool IsInBand(const Body& body, std::vector<ChannelId> channels, ProbeId without, const Figure& band, Instant at) {
  std::erase_if(channels, [&](ChannelId one) { return body.FindChannel(one)->probe == without; });
  const AirMean air = MeanOf(body, channels, at);
  return air.mean && !air.doubted && *air.mean >= band.low && *air.mean <= band.high;
}

// Of all air that it is there to tell another probe in its place tells, and that air keeps its band: nothing is
// unknown.
bool IsStoodInFor(const Body& body, ProbeId id, const Duty& duty, Instant at) {
  if (duty.gas) return false;
  return std::ranges::all_of(body.channels, [&](const Channel& channel) {
    if (channel.probe != id || !channel.cave || !channel.Judged()) return true;
    const Cave& cave = body.caves.at(*channel.cave);
    const Stake& stake = cave.StakeOf(channel.kind);
    return !stake.band || IsInBand(body, cave.Channels(channel.kind), id, *stake.band, at);
  });
}

// The end of the night that `at` lies in; none by day.
std::optional<Instant> MorningAfter(const Cave& cave, const Settings& s, Instant at) {
  const LocalTime local = cave.turn.zone.ToLocal(at);
  const auto midnight = std::chrono::floor<std::chrono::days>(local);
  const Millis of_day = local - midnight;
  const Millis from = Minutes(s.night_from * 60), until = Minutes(s.night_until * 60);
  if (of_day < until) return cave.turn.zone.ToInstant(midnight + until);
  if (of_day >= from) return cave.turn.zone.ToInstant(midnight + std::chrono::days{1} + until);
  return std::nullopt;
}

Instant NextQuarter(Instant at) { return std::chrono::floor<minutes>(at) + minutes{15}; }

struct Patience {
  Millis watch, act;
};

// What was last said of gas that stands there is no longer known: nobody waits for that.
Patience PatienceFor(const Body& body, const Duty& duty) {
  const Settings& s = *duty.settings;
  const Millis act = Minutes(duty.small ? s.silent_act_after_small : s.silent_act_after);
  if (!duty.gas) return {Minutes(s.silent_watch_after), act};
  if (GasStandsIn(body, *duty.cave)) return {kSoonestWatch, kSoonestWatch};
  return {Minutes(s.silent_gas_watch_after), std::min(act, Minutes(s.silent_gas_act_after))};
}

Silence Loudness(const Body& body, ProbeId id, const Duty& duty, const Probe& probe, Instant at) {
  const Settings& s = *duty.settings;
  // A probe that speaks once in half an hour has not fallen silent after 45 minutes.
  const Patience patience = PatienceFor(body, duty);
  const Instant watch = probe.quiet_since + std::max(patience.watch, duty.missed_after);
  const Instant act = probe.quiet_since + std::max(patience.act, duty.missed_after);
  if (at < watch) return {std::nullopt, watch};
  if (!duty.at_stake) return {Severity::kHint, std::nullopt};
  if (at < act) return {Severity::kWatch, act};
  // Asked again each quarter of an hour, for what keeps it quiet may fall silent too.
  if (IsStoodInFor(body, id, duty, at)) return {Severity::kWatch, NextQuarter(at)};
  const Cave& cave = body.caves.at(*duty.cave);
  if (const auto morning = MorningAfter(cave, s, at)) {
    if (MayWaitForMorning(body, id, duty, probe, at)) return {Severity::kWatch, std::min(*morning, NextQuarter(at))};
  }
  const auto morning = MorningAfter(cave, s, act);
  return {Severity::kAct, std::nullopt, morning && at >= *morning && at < *morning + kWaitsForIt};
}

void RaiseSilence(Body& body, ProbeId id, const Probe& probe, const Silence& silence, Instant at, Decisions& out) {
  const Duty duty = DutyOf(body, id);
  if (!MayRaise(body, AlarmKind::kProbeSilent, *duty.cave, *silence.severity, at)) return;
  Alarm alarm;
  alarm.kind = AlarmKind::kProbeSilent;
  alarm.severity = *silence.severity;
  alarm.waited = silence.waited;
  alarm.cave = *duty.cave;
  alarm.probe = id;
  alarm.since = std::min(duty.heard.value_or(probe.quiet_since), probe.quiet_since);
  if (duty.last) alarm.value = alarm.extreme = static_cast<double>(duty.last->latest) / 1000.0;
  if (duty.last && duty.last->kind == ChannelKind::kTemperature) {
    alarm.before = alarm.value;
    alarm.band = body.caves.at(*duty.cave).temperature_stake.band;
  }
  alarm.wheels = duty.wheels;
  Raise(body, std::move(alarm), at, out);
}

// How warm it is now that it speaks again, and how warm the wheels can have become; where another probe spoke of the
// same air that is known anyway.
void NoteEdges(const Body& body, Alarm& alarm, Instant at) {
  if (!alarm.before) return;
  const Channel* again = nullptr;
  for (const Channel& channel : body.channels) {
    if (channel.kind != ChannelKind::kTemperature || channel.cave != alarm.cave) continue;
    if (channel.probe == alarm.probe && channel.heard == at) again = &channel;
    if (channel.probe != alarm.probe && channel.Speaks(at) && !channel.doubt.Any()) return;
  }
  if (!again) return;
  alarm.extreme = again->Latest();
  alarm.warmest = WarmestIn(body, body.caves.at(alarm.cave), std::max(*alarm.before, alarm.extreme), at);
}

// What was told as silence is no usual gap, for its other channels neither, which speak a moment later.
void LearnNothingOf(Body& body, const Alarm& silence, Instant at) {
  for (Channel& channel : body.channels) {
    if (channel.probe == silence.probe && channel.heard != at) channel.learns = false;
  }
}

}  // namespace

Silence SilenceOf(const Body& body, ProbeId id, const Probe& probe, Instant at) {
  // The steady path: it spoke a moment ago, whatever hangs on it.
  if (at < probe.quiet_since + kSoonestWatch) return {std::nullopt, probe.quiet_since + kSoonestWatch};
  const Duty duty = DutyOf(body, id);
  if (IsFolded(body, *duty.cave)) return {std::nullopt, std::nullopt};
  return Loudness(body, id, duty, probe, at);
}

void JudgeSilence(Body& body, Instant at, Decisions& out) {
  for (const auto& [id, probe] : body.probes) {
    const Silence silence = SilenceOf(body, id, probe, at);
    if (!silence.severity) continue;
    Alarm* const standing = StandingSilence(body, id);
    if (!standing) {
      RaiseSilence(body, id, probe, silence, at, out);
    } else if (*silence.severity > standing->severity) {
      standing->waited = silence.waited;
      Worsen(body, *standing, *silence.severity, at, out);
    }
  }
}

void HearProbe(Body& body, ProbeId id, Instant at, Decisions& out) {
  const auto probe = body.probes.find(id);
  if (probe == body.probes.end()) return;
  probe->second.quiet_since = at;
  if (body.alarms.empty()) return;
  Alarm* const standing = StandingSilence(body, id);
  if (!standing) return;
  NoteEdges(body, *standing, at);
  LearnNothingOf(body, *standing, at);
  End(body, *standing, at, out);
}

void ListProbes(Body& body, ProbeId touched, Instant at, Decisions& out) {
  const std::optional<CaveId> cave = DutyOf(body, touched).cave;
  if (Alarm* const standing = StandingSilence(body, touched)) {
    // Another channel of it is read: it hangs there and is as silent as it was.
    if (cave == standing->cave) return;
    End(body, *standing, at, out, Ending::kTakenDown);
  }
  if (cave) {
    body.probes[touched] = {at};
  } else {
    body.probes.erase(touched);
  }
}

namespace {
void Pause(Probe& probe, Instant from, Instant to) { probe.quiet_since += to - std::max(from, probe.quiet_since); }
}  // namespace

void SkipAbsence(Body& body, Instant from, Instant to) {
  for (auto& [id, probe] : body.probes) {
    // A silence that had been told goes on where it was; one that had not is not the probe's and begins anew.
    if (StandingSilence(body, id)) {
      Pause(probe, from, to);
    } else {
      probe.quiet_since = to;
    }
  }
}

void PauseSilence(Body& body, Instant from, Instant to) {
  for (auto& [id, probe] : body.probes) Pause(probe, from, to);
}

}  // namespace rindwatch::rules::watch

namespace rindwatch::rules {

std::optional<Millis> ProbeAwaitedFor(const EngineState& state, ProbeId probe) {
  if (!watch::DutyOf(state.body(), probe).cave) return std::nullopt;
  return watch::MissedAfter(state.body(), probe);
}

std::optional<Instant> WaitsForMorningUntil(const EngineState& state, const Alarm& alarm, Instant at) {
  const watch::Body& body = state.body();
  if (alarm.kind != AlarmKind::kProbeSilent || alarm.over || alarm.severity >= Severity::kAct || !alarm.probe)
    return std::nullopt;
  const auto probe = body.probes.find(*alarm.probe);
  const watch::Duty duty = watch::DutyOf(body, *alarm.probe);
  if (probe == body.probes.end() || !duty.cave || !duty.at_stake) return std::nullopt;
  const Millis act = std::max(watch::PatienceFor(body, duty).act, duty.missed_after);
  if (at < probe->second.quiet_since + act) return std::nullopt;
  if (watch::IsStoodInFor(body, *alarm.probe, duty, at)) return std::nullopt;  // it becomes no act
  if (!watch::MayWaitForMorning(body, *alarm.probe, duty, probe->second, at)) return std::nullopt;
  return watch::MorningAfter(body.caves.at(*duty.cave), *duty.settings, at);
}

}  // namespace rindwatch::rules
