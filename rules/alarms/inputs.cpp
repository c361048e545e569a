#include "rules/alarms/inputs.hpp"

#include <algorithm>

#include "rules/alarms/deadlines.hpp"
#include "rules/alarms/doubts.hpp"
#include "rules/alarms/hearing.hpp"
#include "rules/alarms/more_kinds.hpp"
#include "rules/alarms/plant_power.hpp"
#include "rules/alarms/power.hpp"
#include "rules/alarms/presence.hpp"
#include "rules/alarms/shapes.hpp"
#include "rules/alarms/silence.hpp"
#include "rules/alarms/slow_signs.hpp"
#include "rules/alarms/stake.hpp"
#include "rules/alarms/thresholds.hpp"
#include "rules/alarms/water.hpp"

namespace rindwatch::rules::watch {
namespace {

bool CanBe(const Channel& channel, const Reading& reading) {
  const double value = reading.Value();
  const bool degrees = channel.kind == ChannelKind::kTemperature || channel.kind == ChannelKind::kWheelTemperature;
  if (degrees && reading.milli == kNotMeasuredYet) return false;
  if (!channel.Judged()) return value >= kLeastTemperature && value <= kMostOfAnything;
  if (channel.kind == ChannelKind::kTemperature) return value >= kLeastTemperature && value <= kMostTemperature;
  return value >= kLeastHumidity && value <= kMostHumidity;
}

// A gap that the window cannot bridge. A third of it may be a hole; a slow probe's own pace is no hole.
bool Breaks(const Channel& channel, Millis gap) {
  return gap > std::max<Millis>(minutes{channel.window.Minutes() / 3}, channel.MissedAfter());
}

void BeginAnew(Channel& channel, Instant at) {
  // What was heard in the last minute before the hole still counts.
  channel.window.Clear();
  channel.unbroken_since = at;
  if (!channel.doubt.stuck) channel.doubt.same_since = {};
}

// Kinds that are told by single readings; `anew`: the first after a gap.
void HearOther(Body& body, const Channel& channel, bool anew, Instant at, Decisions& out) {
  Cave& cave = body.caves.at(*channel.cave);
  if (channel.kind == ChannelKind::kDoor) HearDoor(body, *channel.cave, cave, channel.latest > 0, at, out);
  if (TellsOfWater(channel.kind)) HearWater(body, *channel.cave, cave, channel.kind, at, out);
  if (channel.kind == ChannelKind::kPlantPower) HearPlant(body, *channel.cave, channel.Latest(), anew, at);
  if (channel.kind == ChannelKind::kBattery) HearBattery(body, channel, at, out);
}

int WindowFor(ChannelKind kind) {
  return kind == ChannelKind::kHumidity ? kHumidityWindowMinutes : kTemperatureWindowMinutes;
}

Channel& ChannelRecord(Body& body, ChannelId id) {
  const auto place = std::ranges::lower_bound(body.channels, id, {}, &Channel::id);
  if (place != body.channels.end() && place->id == id) return *place;
  Channel channel;
  channel.id = id;
  return *body.channels.insert(place, std::move(channel));
}

void MoveWheel(Body& body, std::optional<CaveId> from, std::optional<CaveId> to) {
  for (const auto& cave : {from, to}) {
    if (!cave) continue;
    SetNextDay(body, *cave, body.now);
    WeighUp(body, *cave);
    if (from == to) break;
  }
}

// What a keeper took out of service is no longer judged: what stood of it ends, and says that nothing else ended it.
void EndOutOfService(Body& body, CaveId id, Decisions& out) {
  const std::vector<AlarmKind>& kinds = body.caves.at(id).out_of_service;
  for (std::size_t i = body.alarms.size(); i-- > 0;) {
    Alarm& alarm = body.alarms[i];
    if (alarm.cave != id || alarm.over || std::ranges::count(kinds, alarm.kind) == 0) continue;
    End(body, alarm, body.now, out, Ending::kStruck);
  }
}

bool HangsIn(const Body& body, CaveId cave, ChannelKind kind) {
  return std::ranges::any_of(body.channels,
                             [&](const Channel& channel) { return channel.kind == kind && channel.cave == cave; });
}

// By what the alarm would be seen to end, if that still hangs there.
bool IsMeasured(const Body& body, const Alarm& alarm) {
  const auto any_of_probe = [&](const auto& is) {
    return std::ranges::any_of(body.channels, [&](const Channel& channel) {
      return channel.probe == alarm.probe && channel.cave == alarm.cave && is(channel);
    });
  };
  switch (alarm.kind) {
    case AlarmKind::kCarbonDioxide:
      return HangsIn(body, alarm.cave, ChannelKind::kCarbonDioxide);
    case AlarmKind::kAmmonia:
      return HangsIn(body, alarm.cave, ChannelKind::kAmmonia);
    case AlarmKind::kDoorOpen:
      return alarm.why != Why::kContact || HangsIn(body, alarm.cave, ChannelKind::kDoor);
    case AlarmKind::kBatteryLow:
      return any_of_probe([](const Channel& channel) { return channel.kind == ChannelKind::kBattery; });
    case AlarmKind::kProbeStuck:
      return any_of_probe([](const Channel& channel) { return channel.doubt.stuck; });
    case AlarmKind::kProbeWet:
      return any_of_probe([](const Channel& channel) { return channel.doubt.wet; });
    default:
      return true;  // its own judge sees to it
  }
}

// What was taken down, moved or put out of service says nothing more of the place: what stood by its word alone is no
// longer judged, and what it counted there is forgotten.
void EndUnmeasured(Body& body, Decisions& out) {
  for (std::size_t i = body.alarms.size(); i-- > 0;) {
    Alarm& alarm = body.alarms[i];
    if (alarm.over || IsMeasured(body, alarm)) continue;
    End(body, alarm, body.now, out, Ending::kTakenDown);
  }
  for (auto& [id, cave] : body.caves) {
    if (!HangsIn(body, id, ChannelKind::kCarbonDioxide)) cave.co2 = {};
    if (!HangsIn(body, id, ChannelKind::kAmmonia)) cave.ammonia = {};
    if (!HangsIn(body, id, ChannelKind::kDoor)) cave.door_open.reset();
  }
}

}  // namespace

void ListChannels(Body& body) {
  for (auto& [id, cave] : body.caves) {
    cave.temperature_channels.clear();
    cave.humidity_channels.clear();
    cave.other_channels.clear();
  }
  for (const Channel& channel : body.channels) {
    if (!channel.cave) continue;
    Cave& cave = body.caves[*channel.cave];
    (channel.kind == ChannelKind::kTemperature ? cave.temperature_channels
     : channel.kind == ChannelKind::kHumidity  ? cave.humidity_channels
                                               : cave.other_channels)
        .push_back(channel.id);
  }
}

void TakeIn(Body& body, const Reading& reading, Decisions& out) {
  // What is not live proves nothing about now: neither the air nor that the probe speaks. But of a time that nobody
  // watched it may say how the air was.
  Channel* const channel = body.FindChannel(reading.channel);
  if (!channel || !channel->cave || !CanBe(*channel, reading)) return;
  if (!Has(reading.marks, Mark::kLive)) {
    if (reading.source == TimeSource::kHeld && !channel->doubt.Any()) HearOfAbsence(body, reading, out);
    return;
  }
  const Instant at = body.now;
  const bool fresh = !channel->heard || Breaks(*channel, at - *channel->heard);
  if (fresh) BeginAnew(*channel, at);
  if (channel->heard && channel->learns) {
    channel->cadence.Learn(at - *channel->heard);
    const bool told =
        StandingSilence(body, channel->probe) != nullptr || (channel->cave && IsFolded(body, *channel->cave));
    channel->gaps.Learn(at - *channel->heard, told, at);
  }
  channel->learns = true;
  const std::int64_t minute = std::chrono::floor<minutes>(at).time_since_epoch() / minutes{1};
  RollChannel(body, *channel, minute);
  channel->window.Add(minute, reading.milli);
  const std::int64_t before = channel->latest;
  channel->heard = at;
  channel->measured = reading.measured_at;
  channel->latest = reading.milli;
  if (channel->Judged()) DoubtReading(body, *channel, before, at, out);
  HearOther(body, *channel, fresh, at, out);
  if (channel->OughtToSpeak()) HearProbe(body, channel->probe, at, out);
  // Its minute closes, and nothing of it can come earlier than that.
  body.wake = std::min<Instant>(body.wake, std::chrono::floor<minutes>(at) + minutes{1});
}

void TakeIn(Body& body, const CaveGiven& given, Decisions& out) {
  Cave& cave = body.caves[given.cave];
  const std::vector<CaveId> around = Outwards(body, given.cave);
  cave.inside = given.inside;
  cave.turn = given.turn;
  cave.temperature_limit = Usable(given.temperature_limit);
  cave.humidity_limit = Usable(given.humidity_limit);
  cave.own = given.own;
  cave.settings = SettingsWith(given.own);
  cave.ready_cheese = given.ready_cheese;
  cave.out_of_service = given.out_of_service;
  EndOutOfService(body, given.cave, out);
  LookUpWheels(body, given.cave, body.now);
  SetNextDay(body, given.cave, body.now);
  for (const CaveId id : around) WeighUp(body, id);  // those it stood inside until now
  WeighUp(body, given.cave);
  Settle(body, out);
}

void TakeIn(Body& body, const ChannelHung& hung, Decisions& out) {
  Channel& channel = ChannelRecord(body, hung.channel);
  const bool known = channel.window.Minutes() > 0;
  const ProbeId before = known ? channel.probe : hung.probe;
  if (known && before == hung.probe && channel.kind == hung.kind && channel.cave == hung.cave) return;
  if (hung.cave && !body.caves.contains(*hung.cave)) {
    body.caves[*hung.cave];
    WeighUp(body, *hung.cave);
  }
  channel = Channel{};
  channel.id = hung.channel;
  channel.probe = hung.probe;
  channel.kind = hung.kind;
  channel.cave = hung.cave;
  channel.window = Window{WindowFor(hung.kind)};
  BeginAnew(channel, body.now);
  ListChannels(body);
  WeighUpAll(body);
  if (before != hung.probe) ListProbes(body, before, body.now, out);
  ListProbes(body, hung.probe, body.now, out);
  EndUnmeasured(body, out);
  Settle(body, out);
}

void TakeIn(Body& body, const WheelGiven& given, Decisions& out) {
  const auto found = body.wheels.find(given.wheel);
  const std::optional<CaveId> from = found == body.wheels.end() ? std::nullopt : std::optional{found->second.cave};
  const bool here = given.cave && !(given.history.gone && *given.history.gone <= body.now);
  const std::optional<CaveId> to = here ? given.cave : std::nullopt;
  if (!here) {
    if (found != body.wheels.end()) body.wheels.erase(found);
  } else {
    body.caves[*to];
    Wheel& wheel = body.wheels[given.wheel];
    wheel.cave = *to;
    wheel.history = Trimmed(body, given.history);
    wheel.weight = given.weight.value > 0 ? given.weight : Grams{};
    wheel.own_temperature = Usable(given.own_temperature);
    wheel.own_humidity = Usable(given.own_humidity);
    LookUp(body, wheel, body.now);
  }
  MoveWheel(body, from, to);
  if (given.laid_now && to && to != from) LayIn(body, from, *to, body.now);
  Settle(body, out);
}

void TakeIn(Body& body, const AlarmTaken& taken, Decisions& out) {
  Take(body, taken.alarm, taken.tapped.value_or(body.now), body.now, out);
  Settle(body, out);
}

void TakeIn(Body& body, const AlarmSetAside& aside, Decisions& out) {
  SetAside(body, aside.alarm, aside.until, body.now, out);
  Settle(body, out);
}

void TakeIn(Body& body, const KeeperHere& here, Decisions& out) {
  ComeHere(body, here.cave, here.keeper, body.now, out);
  Settle(body, out);
}

void TakeIn(Body& body, const KeeperOut& gone, Decisions& out) {
  GoOut(body, gone.cave, gone.keeper, body.now, out);
  Settle(body, out);
}

void TakeIn(Body& body, const KeeperTended& tended, Decisions&) {
  const auto found = body.caves.find(tended.cave);
  if (found == body.caves.end()) return;
  // In a box is in front of the fridge around it too.
  for (const CaveId id : Outwards(body, tended.cave)) {
    const auto near = body.caves.find(id);
    if (near == body.caves.end()) continue;
    BeSeen(near->second, body.now);
    NameAfterTending(body, near->first, body.now);
  }
}

void TakeIn(Body& body, const Stopped&, Decisions& out) {
  if (body.watching) body.stopped = body.now;
  body.watching = false;
  Settle(body, out);
}

void Start(Body& body, const Started& started, Instant at, Decisions& out) {
  if (!body.begun) body.now = at;
  if (body.watching) {
    const Instant now = body.now;
    RunDeadlines(body, std::clamp(started.watched_until.value_or(now), now, std::max(now, at)), out);
    body.stopped = body.now;
  }
  const Instant left = body.stopped;
  body.watching = true;
  body.found_later = at > left;
  if (at - left <= kBriefAbsence) {
    body.wake = body.now;
    PauseSilence(body, left, at);
    RunDeadlines(body, at, out);
  } else {
    RunUnwatched(body, at, out);
    SkipAbsence(body, left, at);
    NoteAbsence(body, left, at, out);
    for (Channel& channel : body.channels) channel.learns = false;
  }
  body.found_later = false;
  Settle(body, out);
}

}  // namespace rindwatch::rules::watch
