#include "rules/alarms/power.hpp"

#include <algorithm>
#include <cmath>

#include "rules/alarms/air.hpp"
#include "rules/alarms/hearing.hpp"
#include "rules/alarms/presence.hpp"
#include "rules/alarms/stake.hpp"
#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {
namespace {

// One probe more or less says nothing about power: a place that has but one is judged with all of the house.
constexpr std::size_t kLeastProbes = 2;
// A fall of silence that is older than this has been told by each probe itself.
constexpr Millis kStillNews = minutes{60};
// After an absence the air is compared for this long; later it has lived through something else.
constexpr Millis kComparable = minutes{30};

struct Missing {
  std::size_t probes = 0, missed = 0;
  bool awaited = false;                                   // one that is missed was not listened to for long enough yet
  Instant first = Instant::max(), last = Instant::min();  // last words
  Instant quiet = Instant::min();                         // the last of them, without the time in which nobody listened
  bool All() const { return missed == probes && !awaited; }
  // They fell silent together if their last words lie that close.
  bool AllAtOnce(Millis together) const { return probes >= kLeastProbes && All() && last - first <= together; }
};

Missing MissingIn(const Body& body, const std::vector<CaveId>& caves, Instant at) {
  Missing missing;
  for (const auto& [id, probe] : body.probes) {
    std::optional<Instant> heard;
    bool here = false, speaks = false, awaited = false;
    for (const Channel& channel : body.channels) {
      if (channel.probe != id || !channel.cave || !channel.OughtToSpeak()) continue;
      if (std::ranges::count(caves, *channel.cave) == 0) continue;
      here = true;
      if (!channel.heard) continue;
      heard = std::max(heard.value_or(*channel.heard), *channel.heard);
      speaks |= channel.Speaks(at);
      awaited |= at < probe.quiet_since + channel.MissedAfter();
    }
    if (!here || !heard) continue;  // hung and never heard: it says nothing either way
    ++missing.probes;
    if (speaks) continue;
    ++missing.missed;
    missing.awaited |= awaited;
    missing.quiet = std::max(missing.quiet, probe.quiet_since);
    missing.first = std::min(missing.first, *heard);
    missing.last = std::max(missing.last, *heard);
  }
  return missing;
}

bool IsTender(const Body& body, const std::vector<CaveId>& caves) {
  return std::ranges::any_of(caves, [&](CaveId id) { return body.caves.at(id).temperature_stake.tender; });
}

std::vector<CaveId> AllCaves(const Body& body) {
  std::vector<CaveId> all;
  all.reserve(body.caves.size());
  for (const auto& [id, cave] : body.caves) all.push_back(id);
  return all;
}

// All of a place at once; of a place with a single probe all of the house.
bool FellSilent(const Body& body, const Missing& here, Millis together, Instant at) {
  if (here.probes >= kLeastProbes) return here.AllAtOnce(together);
  return here.probes > 0 && here.All() && MissingIn(body, AllCaves(body), at).AllAtOnce(together);
}

bool IsOutermost(const Body& body, CaveId id) { return Outwards(body, id).back() == id; }

Millis UrgentAfter(const Body& body, CaveId id) {
  const Settings& s = body.caves.at(id).settings;
  return Minutes(IsTender(body, TogetherWith(body, id)) ? s.power_urgent_after_tender : s.power_urgent_after_hardy);
}

void RaisePower(Body& body, CaveId id, const Missing& missing, Instant at, Decisions& out) {
  const Cave& cave = body.caves.at(id);
  Alarm alarm;
  alarm.kind = AlarmKind::kPowerGone;
  alarm.severity = Severity::kAct;
  alarm.cave = id;
  alarm.since = missing.last;
  const std::vector<CaveId> all = AllCaves(body);
  const bool several = std::ranges::count_if(all, [&](CaveId one) { return IsOutermost(body, one); }) > 1;
  alarm.why = several && MissingIn(body, all, at).AllAtOnce(Minutes(cave.settings.power_together)) ? Why::kEverywhere
                                                                                                   : Why::kTogether;
  for (const ChannelId channel : cave.temperature_channels) alarm.before = body.FindChannel(channel)->Latest();
  alarm.value = alarm.extreme = alarm.before.value_or(0);
  alarm.band = cave.temperature_stake.band;
  for (const Stake::Asking& asking : cave.temperature_stake.wheels) alarm.wheels.push_back(asking.wheel);
  Raise(body, std::move(alarm), at, out);
}

std::optional<double> AirNow(const Body& body, const Cave& cave, Instant at) {
  std::optional<double> air;
  for (const ChannelId id : cave.temperature_channels) {
    const Channel& channel = *body.FindChannel(id);
    if (channel.Speaks(at) && !channel.doubt.Any()) air = channel.Latest();
  }
  return air;
}

// Nobody knows yet how it was, nor whether anything speaks.
void TellAbsence(Body& body, CaveId id, const Cave& cave, Instant at, Decisions& out) {
  if (!IsOutermost(body, id) || !MayRaise(body, AlarmKind::kUnwatched, id, Severity::kHint, at)) return;
  Alarm alarm;
  alarm.kind = AlarmKind::kUnwatched;
  alarm.severity = Severity::kHint;
  alarm.why = Why::kUnheard;
  alarm.cave = id;
  alarm.since = cave.absence->from;
  alarm.back_since = cave.absence->to;
  alarm.before = cave.absence->before;
  alarm.value = alarm.extreme = cave.absence->before;
  for (const Stake::Asking& asking : cave.temperature_stake.wheels) alarm.wheels.push_back(asking.wheel);
  Raise(body, std::move(alarm), at, out);
}

// The first word of its air, with which the other edge is known. What came long after the start says nothing of who was
// without power.
void FillAbsence(Body& body, CaveId id, Cave& cave, double air, Instant at, Decisions& out) {
  const Absence absence = *cave.absence;
  cave.absence.reset();
  Alarm* const told = Standing(body, AlarmKind::kUnwatched, id);
  if (!told) return;
  told->value = told->extreme = air;
  told->warmest = WarmestIn(body, cave, std::max(air, absence.before), at);
  if (at - absence.to <= kComparable) {
    const bool stayed = std::abs(air - absence.before) <= cave.settings.unwatched_moved;
    told->why = stayed ? Why::kOnlyTheWatch : Why::kWarmedMeanwhile;
    if (!stayed && cave.temperature_stake.band) Worsen(body, *told, Severity::kWatch, at, out);
  }
  End(body, *told, at, out);
}

// The probes that speak again later than the first: their gap too was the power's.
void LearnNothingOf(Body& body, const std::vector<CaveId>& caves, Instant at) {
  for (Channel& channel : body.channels) {
    const bool there = channel.cave && std::ranges::count(caves, *channel.cave) > 0;
    if (there && !channel.Speaks(at)) channel.learns = false;
  }
}

}  // namespace

std::optional<double> WarmestIn(const Body& body, const Cave& cave, double air, Instant at) {
  std::optional<double> warmest;
  for (const Stake::ClassAsking& asking : cave.temperature_stake.classes) {
    if (const auto one = WarmestOf(body, cave, asking.kind, air, at)) warmest = std::max(warmest.value_or(*one), *one);
  }
  return warmest;
}

bool IsFolded(const Body& body, CaveId cave) {
  if (!body.Stands(AlarmKind::kPowerGone)) return false;
  const CaveId outermost = Outwards(body, cave).back();
  return std::ranges::any_of(body.alarms, [outermost](const Alarm& alarm) {
    return alarm.kind == AlarmKind::kPowerGone && alarm.cave == outermost && !alarm.over;
  });
}

void JudgePower(Body& body, Instant at, Decisions& out) {
  // The steady path: everybody speaks.
  const auto missed = [at](const Channel& channel) {
    return channel.cave && channel.OughtToSpeak() && channel.heard && !channel.Speaks(at);
  };
  if (std::ranges::none_of(body.channels, missed) && body.alarms.empty()) return;
  for (auto& [id, cave] : body.caves) {
    if (!IsOutermost(body, id)) continue;
    if (Alarm* const standing = Standing(body, AlarmKind::kPowerGone, id)) {
      if (standing->severity < Severity::kUrgent && at >= standing->since + UrgentAfter(body, id)) {
        Worsen(body, *standing, Severity::kUrgent, at, out);
      }
      continue;
    }
    if (!cave.temperature_stake.band) continue;  // nothing is asked of the air for it
    const Missing missing = MissingIn(body, TogetherWith(body, id), at);
    if (!FellSilent(body, missing, Minutes(cave.settings.power_together), at)) continue;
    // What fell silent shortly before somebody listened again is news once that was for long enough.
    const bool lately = missing.quiet - missing.last <= kStillNews;
    if (at - (lately ? missing.quiet : missing.last) > kStillNews) continue;
    if (MayRaise(body, AlarmKind::kPowerGone, id, Severity::kAct, at)) RaisePower(body, id, missing, at, out);
  }
}

std::optional<Instant> PowerGetsLouderAt(const Body& body, Instant after) {
  std::optional<Instant> next;
  for (const Alarm& alarm : body.alarms) {
    if (alarm.kind != AlarmKind::kPowerGone || alarm.over || alarm.severity >= Severity::kUrgent) continue;
    const Instant urgent = alarm.since + UrgentAfter(body, alarm.cave);
    if (urgent > after && (!next || urgent < *next)) next = urgent;
  }
  return next;
}

void HearAgain(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out) {
  Alarm* const standing = body.alarms.empty() ? nullptr : Standing(body, AlarmKind::kPowerGone, id);
  if (!standing && !cave.absence) return;
  const auto air = AirNow(body, cave, at);
  if (standing) {
    const bool any = air || MissingIn(body, TogetherWith(body, id), at).missed == 0;
    if (any) {
      if (air) {
        standing->extreme = *air;
        standing->warmest = WarmestIn(body, cave, std::max(*air, standing->before.value_or(*air)), at);
      }
      LearnNothingOf(body, TogetherWith(body, id), at);
      End(body, *standing, at, out);
    }
  }
  if (air && cave.absence) FillAbsence(body, id, cave, *air, at, out);
}

void NoteAbsence(Body& body, Instant from, Instant to, Decisions& out) {
  for (auto& [id, cave] : body.caves) {
    std::optional<double> before;
    for (const ChannelId channel_id : cave.temperature_channels) {
      const Channel& channel = *body.FindChannel(channel_id);
      if (channel.heard && channel.Speaks(from)) before = channel.Latest();
    }
    // What was not heard before either is a silence, and told as that.
    if (!before) continue;
    if (Alarm* const earlier = Standing(body, AlarmKind::kUnwatched, id)) End(body, *earlier, to, out);
    cave.absence = Absence{from, to, *before};
    TellAbsence(body, id, cave, to, out);
  }
}

void HearOfAbsence(Body& body, const Reading& held, Decisions& out) {
  for (auto& [id, cave] : body.caves) {
    if (!cave.absence || std::ranges::count(cave.temperature_channels, held.channel) == 0) continue;
    const Instant to = cave.absence->to;
    if (held.measured_at > cave.absence->from && held.measured_at <= to)
      FillAbsence(body, id, cave, held.Value(), to, out);
  }
}

void EndUnheard(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out) {
  if (!cave.absence || !cave.temperature_channels.empty()) return;
  cave.absence.reset();
  if (Alarm* const told = Standing(body, AlarmKind::kUnwatched, id)) End(body, *told, at, out);
}

}  // namespace rindwatch::rules::watch
