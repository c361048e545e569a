#include "rules/alarms/water.hpp"

#include <algorithm>

#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {
namespace {

struct Contact {
  AlarmKind kind;
  ChannelKind channel;
  bool ill_when;  // the contact's word that is no good one
  WaterWatch Cave::*watch;
  double Settings::*after;
  double Settings::*over_after;  // a float that bobs says both for a while
  AlarmKind air;                 // what comes of it
};
constexpr Contact kContacts[] = {
    {AlarmKind::kHumidifierDry, ChannelKind::kHumidifierWater, false, &Cave::humidifier, &Settings::humidifier_dry_for,
     &Settings::humidifier_over_after, AlarmKind::kTooDry},
    {AlarmKind::kDrainBlocked, ChannelKind::kDrainWater, true, &Cave::drain, &Settings::drain_stands_for,
     &Settings::drain_over_after, AlarmKind::kTooDamp},
};

Instant RingsAt(const Cave& cave, const Contact& contact) {
  return *(cave.*contact.watch).since + Minutes(cave.settings.*contact.after);
}

// Where it is as it should be again.
Instant OverAt(const Cave& cave, const Contact& contact) {
  return *(cave.*contact.watch).back + Minutes(cave.settings.*contact.over_after);
}

bool HasRung(const Cave& cave, const Contact& contact, Instant at) {
  return (cave.*contact.watch).since && !(cave.*contact.watch).back && at >= RingsAt(cave, contact);
}

void Note(const Body& body, Cave& cave, const Contact& contact, Instant at) {
  bool ill = false, heard = false;
  for (const ChannelId id : cave.other_channels) {
    const Channel& channel = *body.FindChannel(id);
    if (channel.kind != contact.channel || !channel.heard) continue;
    heard = true;
    ill |= (channel.latest > 0) == contact.ill_when;
  }
  WaterWatch& water = cave.*contact.watch;
  if (!heard) {  // taken down, or not a word yet
    water = {};
  } else if (ill) {
    if (!water.since) water.since = at;
    water.back.reset();
  } else if (water.since && !water.back) {
    water.back = at;
  }
}

// A humidifier where no humidity is asked for is a hint; standing water is never good.
Severity SeverityOf(const Cave& cave, const Contact& contact) {
  const bool asked = cave.humidity_stake.band || contact.kind == AlarmKind::kDrainBlocked;
  return asked ? Severity::kWatch : Severity::kHint;
}

void RaiseWater(Body& body, CaveId id, const Cave& cave, const Contact& contact, Instant at, Decisions& out) {
  Alarm alarm;
  alarm.kind = contact.kind;
  alarm.severity = SeverityOf(cave, contact);
  alarm.cave = id;
  alarm.why = Why::kContact;
  alarm.since = *(cave.*contact.watch).since;
  for (const Stake::Asking& asking : cave.humidity_stake.wheels) alarm.wheels.push_back(asking.wheel);
  Raise(body, std::move(alarm), at, out);
}

void JudgeOne(Body& body, CaveId id, Cave& cave, const Contact& contact, Instant at, Decisions& out) {
  WaterWatch& water = cave.*contact.watch;
  if (water.back && at >= OverAt(cave, contact)) water = {};
  Alarm* const standing = Standing(body, contact.kind, id);
  if (!water.since) {
    const bool hangs = std::ranges::any_of(
        cave.other_channels, [&](ChannelId one) { return body.FindChannel(one)->kind == contact.channel; });
    if (standing) End(body, *standing, at, out, hangs ? Ending::kReturned : Ending::kTakenDown);
    return;
  }
  if (!HasRung(cave, contact, at)) return;
  if (Alarm* const air = Standing(body, contact.air, id)) air->cause = contact.kind;
  if (standing || !MayRaise(body, contact.kind, id, SeverityOf(cave, contact), at)) return;
  RaiseWater(body, id, cave, contact, at, out);
}

}  // namespace

void HearWater(Body& body, CaveId id, Cave& cave, ChannelKind kind, Instant at, Decisions& out) {
  for (const Contact& contact : kContacts) {
    if (contact.channel != kind) continue;
    Note(body, cave, contact, at);
    JudgeOne(body, id, cave, contact, at, out);
  }
}

std::array<std::optional<Instant>, 4> WaterTurnsAt(const Cave& cave) {
  std::array<std::optional<Instant>, 4> turns;
  std::size_t next = 0;
  for (const Contact& contact : kContacts) {
    const WaterWatch& water = cave.*contact.watch;
    if (water.since && !water.back) turns[next++] = RingsAt(cave, contact);
    if (water.back) turns[next++] = OverAt(cave, contact);
  }
  return turns;
}

void JudgeWater(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out) {
  for (const Contact& contact : kContacts) JudgeOne(body, id, cave, contact, at, out);
}

void ReviewWater(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out) {
  for (const Contact& contact : kContacts) Note(body, cave, contact, at);
  JudgeWater(body, id, cave, at, out);
}

std::optional<AlarmKind> CauseOf(const Body& body, AlarmKind kind, CaveId id, Instant at) {
  const auto cave = body.caves.find(id);
  if (cave == body.caves.end()) return std::nullopt;
  for (const Contact& contact : kContacts) {
    if (contact.air == kind && HasRung(cave->second, contact, at)) return contact.kind;
  }
  return std::nullopt;
}

}  // namespace rindwatch::rules::watch
