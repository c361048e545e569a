#include "rules/alarms/silence.hpp"

#include <algorithm>

#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {
namespace {

// What hangs on a probe: its channels that ought to speak, and whatever they are there for.
struct Duty {
  std::optional<CaveId> cave;             // the first it hangs in
  Millis missed_after = kSilentActAfter;  // the least of its channels, and no later than the alarm itself
  bool at_stake = false;
  bool small = false;
  std::vector<WheelId> wheels;
  const Channel* last = nullptr;  // spoke last; of one message the temperature
};

Duty DutyOf(const Body& body, ProbeId id) {
  Duty duty;
  for (const Channel& channel : body.channels) {
    if (channel.probe != id || !channel.Judged() || !channel.cave) continue;
    if (!duty.cave) duty.cave = channel.cave;
    duty.missed_after = std::min(duty.missed_after, channel.cadence.MissedAfter());
    const Stake& stake = body.caves.at(*channel.cave).StakeOf(channel.kind);
    duty.at_stake |= stake.band.has_value();
    duty.small |= stake.small;
    for (const Stake::Asking& asking : stake.wheels) duty.wheels.push_back(asking.wheel);
    const bool later = channel.heard && (!duty.last || channel.measured > duty.last->measured);
    const bool same = channel.heard && duty.last && channel.measured == duty.last->measured;
    if (later || (same && channel.kind < duty.last->kind)) duty.last = &channel;
  }
  std::ranges::sort(duty.wheels);
  const auto repeats = std::ranges::unique(duty.wheels);
  duty.wheels.erase(repeats.begin(), repeats.end());
  return duty;
}

Silence Loudness(const Duty& duty, const Probe& probe, Instant at) {
  // A probe that speaks once in half an hour has not fallen silent after 45 minutes.
  const Instant watch = probe.quiet_since + std::max(kSilentWatchAfter, duty.missed_after);
  const Instant act =
      probe.quiet_since + std::max(duty.small ? kSilentActAfterSmall : kSilentActAfter, duty.missed_after);
  if (at < watch) return {std::nullopt, watch};
  if (!duty.at_stake) return {Severity::kHint, std::nullopt};
  if (at < act) return {Severity::kWatch, act};
  return {Severity::kAct, std::nullopt};
}

void RaiseSilence(Body& body, ProbeId id, const Probe& probe, Severity severity, Instant at, Decisions& out) {
  const Duty duty = DutyOf(body, id);
  Alarm alarm;
  alarm.kind = AlarmKind::kProbeSilent;
  alarm.severity = severity;
  alarm.cave = *duty.cave;
  alarm.probe = id;
  alarm.since = probe.quiet_since;
  if (duty.last) alarm.value = alarm.extreme = static_cast<double>(duty.last->latest) / 1000.0;
  alarm.wheels = duty.wheels;
  Raise(body, std::move(alarm), at, out);
}

}  // namespace

Silence SilenceOf(const Body& body, ProbeId id, const Probe& probe, Instant at) {
  // The steady path: it spoke a moment ago, whatever hangs on it.
  if (at < probe.quiet_since + kSilentWatchAfter) {
    return {std::nullopt, probe.quiet_since + kSilentWatchAfter};
  }
  return Loudness(DutyOf(body, id), probe, at);
}

void JudgeSilence(Body& body, Instant at, Decisions& out) {
  for (const auto& [id, probe] : body.probes) {
    const Silence silence = SilenceOf(body, id, probe, at);
    if (!silence.severity) continue;
    Alarm* const standing = StandingSilence(body, id);
    if (!standing) {
      RaiseSilence(body, id, probe, *silence.severity, at, out);
    } else if (*silence.severity > standing->severity) {
      Worsen(body, *standing, *silence.severity, at, out);
    }
  }
}

void HearProbe(Body& body, ProbeId id, Instant at, Decisions& out) {
  const auto probe = body.probes.find(id);
  if (probe == body.probes.end()) return;
  probe->second.quiet_since = at;
  if (body.alarms.empty()) return;
  if (Alarm* const standing = StandingSilence(body, id)) End(body, *standing, at, out);
}

void ListProbes(Body& body, ProbeId touched, Instant at, Decisions& out) {
  if (Alarm* const standing = StandingSilence(body, touched)) End(body, *standing, at, out);
  if (DutyOf(body, touched).cave) {
    body.probes[touched] = {at};
  } else {
    body.probes.erase(touched);
  }
}

void SkipAbsence(Body& body, Instant from, Instant to) {
  for (auto& [id, probe] : body.probes) {
    // A silence that had been told goes on where it was; one that had not is not the probe's and begins anew.
    if (StandingSilence(body, id)) {
      probe.quiet_since += to - std::max(from, probe.quiet_since);
    } else {
      probe.quiet_since = to;
    }
  }
}

}  // namespace rindwatch::rules::watch
