#include "rules/alarms/deadlines.hpp"

#include <algorithm>

#include "rules/alarms/air.hpp"
#include "rules/alarms/boxes.hpp"
#include "rules/alarms/doubts.hpp"
#include "rules/alarms/hearing.hpp"
#include "rules/alarms/more_kinds.hpp"
#include "rules/alarms/power.hpp"
#include "rules/alarms/presence.hpp"
#include "rules/alarms/silence.hpp"
#include "rules/alarms/slow_signs.hpp"
#include "rules/alarms/stake.hpp"
#include "rules/alarms/thresholds.hpp"
#include "rules/alarms/water.hpp"

namespace rindwatch::rules::watch {
namespace {

Instant NextMinute(Instant at) { return std::chrono::floor<minutes>(at) + minutes{1}; }

bool IsWholeMinute(Instant at) { return std::chrono::floor<minutes>(at) == at; }

struct Earliest {
  Instant after;
  std::optional<Instant> at;
  void Add(std::optional<Instant> candidate) {
    if (candidate && *candidate > after && (!at || *candidate < *at)) at = candidate;
  }
};

void AddCalendar(const Body& body, Earliest& next) {
  for (const auto& [id, cave] : body.caves) {
    next.Add(cave.next_day);
    next.Add(cave.here_until);
  }
  for (const Alarm& alarm : body.alarms) next.Add(alarm.aside_until);
}

void BeginDays(Body& body, Instant at, Decisions& out) {
  for (auto& [id, cave] : body.caves) {
    if (!cave.next_day || *cave.next_day > at) continue;
    LookUpWheels(body, id, at);
    SetNextDay(body, id, at);
    WeighUp(body, id);
  }
  ListEstimates(body);
  for (auto& [id, cave] : body.caves) {
    for (const ChannelKind kind : kJudgedKinds) EndUnjudged(body, id, cave, kind, at, out);
  }
}

bool DayBegins(const Body& body, Instant at) {
  return std::ranges::any_of(body.caves,
                             [at](const auto& entry) { return entry.second.next_day && *entry.second.next_day <= at; });
}

std::optional<double> HumidityOf(const Body& body, const Cave& cave, Instant at) {
  if (cave.humidity_channels.empty()) return std::nullopt;
  const AirMean humidity = MeanOf(body, cave.humidity_channels, at);
  return humidity.settled ? humidity.mean : std::nullopt;
}

void CloseMinute(Body& body, Instant at, Decisions& out) {
  const std::int64_t minute = std::chrono::floor<minutes>(at).time_since_epoch() / minutes{1};
  for (Channel& channel : body.channels) {
    if (channel.OughtToSpeak() && channel.cave && channel.Speaks(at)) RollChannel(body, channel, minute);
  }
  for (const CaveId id : OutermostFirst(body)) {
    Cave& cave = body.caves.at(id);
    cave.humidity_now = HumidityOf(body, cave, at);
    if (!cave.humidity_channels.empty() || !cave.temperature_channels.empty()) DoubtMinute(body, id, cave, at, out);
    for (const ChannelKind kind : kJudgedKinds) {
      if (!cave.Channels(kind).empty()) JudgeMinute(body, id, cave, kind, at, out);
    }
    JudgeSlowSigns(body, id, cave, at, out);
    JudgeCondensation(body, id, cave, at, out);
    JudgeAfterRound(body, id, cave, at, out);
    if (!cave.other_channels.empty()) JudgeGas(body, id, cave, at, out);
    HearAgain(body, id, cave, at, out);
    cave.humidity_now.reset();
  }
}

}  // namespace

std::optional<Instant> NextInstant(const Body& body) {
  Earliest next{body.now, std::nullopt};
  if (!body.watching) return std::nullopt;
  AddCalendar(body, next);
  const Instant minute = NextMinute(body.now);
  for (const Channel& channel : body.channels) {
    if (!channel.OughtToSpeak() || !channel.cave || !channel.heard) continue;
    next.Add(channel.MissedAt());
    if (const auto probe = body.probes.find(channel.probe); probe != body.probes.end() && !channel.Speaks(body.now))
      next.Add(probe->second.quiet_since + channel.MissedAfter());
    if (channel.Speaks(minute)) next.Add(minute);
  }
  for (const auto& [id, probe] : body.probes) next.Add(SilenceOf(body, id, probe, body.now).next);
  for (const auto& [id, cave] : body.caves) {
    next.Add(DoorRingsAt(body, id, cave));
    for (const auto& turns : WaterTurnsAt(cave)) next.Add(turns);
  }
  next.Add(PowerGetsLouderAt(body, body.now));
  return next.at;
}

void RunDeadlines(Body& body, Instant at, Decisions& out) {
  if (at < body.wake) {
    body.now = std::max(body.now, at);
    return;
  }
  for (auto next = NextInstant(body); next && *next <= at; next = NextInstant(body)) {
    body.now = *next;
    if (DayBegins(body, body.now)) BeginDays(body, body.now, out);
    if (IsWholeMinute(body.now)) CloseMinute(body, body.now, out);
    for (auto& [id, cave] : body.caves) {
      JudgeDoor(body, id, cave, body.now, out);
      JudgeWater(body, id, cave, body.now, out);
    }
    JudgePower(body, body.now, out);
    JudgeSilence(body, body.now, out);
    BringBack(body, body.now, out);
    EndPresence(body, body.now, out);
  }
  body.now = std::max(body.now, at);
  body.wake = NextInstant(body).value_or(Instant::max());
}

void RunUnwatched(Body& body, Instant at, Decisions& out) {
  body.found_later = true;
  while (true) {
    Earliest next{body.now, std::nullopt};
    AddCalendar(body, next);
    if (!next.at || *next.at > at) break;
    body.now = *next.at;
    if (DayBegins(body, body.now)) BeginDays(body, body.now, out);
    BringBack(body, body.now, out);
    EndPresence(body, body.now, out);
  }
  body.found_later = false;
  body.now = std::max(body.now, at);
}

void Settle(Body& body, Decisions& out) {
  ListEstimates(body);
  if (body.watching) JudgeSilence(body, body.now, out);
  for (auto& [id, cave] : body.caves) {
    if (body.watching) ReviewWater(body, id, cave, body.now, out);
    EndUnheard(body, id, cave, body.now, out);
    for (const ChannelKind kind : kJudgedKinds) EndUnjudged(body, id, cave, kind, body.now, out);
  }
  body.wake = NextInstant(body).value_or(Instant::max());
}

void SetNextDay(Body& body, CaveId id, Instant at) {
  Cave& cave = body.caves.at(id);
  const bool occupied = std::ranges::any_of(body.wheels, [id](const auto& entry) { return entry.second.cave == id; });
  cave.next_day.reset();
  if (occupied) cave.next_day = cave.turn.EndOf(cave.turn.DayOf(at));
}

}  // namespace rindwatch::rules::watch
