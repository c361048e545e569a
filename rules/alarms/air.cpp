#include "rules/alarms/air.hpp"

#include <algorithm>
#include <cmath>

#include "rules/alarms/boxes.hpp"
#include "rules/alarms/evidence.hpp"
#include "rules/alarms/first.hpp"
#include "rules/alarms/hearing.hpp"
#include "rules/alarms/judged.hpp"
#include "rules/alarms/plan_step.hpp"
#include "rules/alarms/side.hpp"
#include "rules/alarms/stake.hpp"
#include "rules/alarms/steps.hpp"
#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {
namespace {

struct Average {
  double sum = 0;
  int count = 0;
  void Add(std::optional<double> value) {
    if (!value) return;
    sum += *value;
    ++count;
  }
  std::optional<double> Mean() const { return count > 0 ? std::optional{sum / count} : std::nullopt; }
};

// A box lags: it stays out for longer than the cave around it, and what it comes to on its way back is no news. What is
// worse in the box and is not getting better is, and so is what is urgent.
bool BelongsTo(const Alarm& around, const Judged& judged, Severity severity) {
  if (severity <= around.severity) return true;
  return severity < Severity::kUrgent && judged.sign * (judged.Mean() - judged.Recent()) >= kOnItsWayBack;
}

// True if what this box came to is told by the cave around it, now or in a moment.
bool LeftToAround(Body& body, const Judged& judged, const Ladder& ladder, const Side& side, Severity severity,
                  const std::vector<WheelId>& touched) {
  if (judged.channel != ChannelKind::kTemperature) return false;
  if (Alarm* const around = RingsAround(body, judged.cave, judged.Kind())) {
    if (!BelongsTo(*around, judged, severity)) return false;
    AddTouched(*around, touched);
    return true;
  }
  return severity == Severity::kWatch && side.edge.beyond < ladder.watch_after + kSameEvent &&
         AboutToRingAround(body, judged.cave, judged.Kind(), side, judged.at);
}

// The severity that air and evidence have come to, and by which of the two.
struct Reason {
  Severity severity;
  Why why;
  Instant since;
};
std::optional<Reason> ReasonOf(const Judged& judged, const Ladder& ladder, const Side& side) {
  // What is written like the edge is not told as beyond it.
  const bool shows = ladder.side * (judged.Mean() - ladder.edge) >= HalfOfShown(judged.channel);
  std::optional<Severity> by_air;
  if (shows) by_air = Reached(ladder, side, judged.Recent());
  // What trails the cave around it comes back by itself; its wheels too.
  const auto other = side.trails ? std::nullopt : judged.evidence;
  if (other && (!by_air || other->severity > *by_air)) return Reason{other->severity, other->why, other->since};
  if (!by_air) return std::nullopt;
  return Reason{*by_air, judged.ready ? Why::kReadyCheese : Why::kBand, side.since};
}

// While its probes contradict each other the worse one counts, for its wheels too.
std::vector<ChannelId> Heeded(const Body& body, const Cave& cave, const Judged& judged, const Alarm& alarm) {
  if (alarm.why != Why::kOneProbe || judged.said.empty()) return cave.temperature_channels;
  const ProbeId worst = std::ranges::max_element(judged.said, {}, &ProbeSaid::value)->probe;
  std::vector<ChannelId> heeded = cave.temperature_channels;
  std::erase_if(heeded, [&](ChannelId id) { return body.FindChannel(id)->probe != worst; });
  return heeded;
}

// The forecast costs some thought: made when it rings and each quarter of an hour, later each hour.
void Foresee(Body& body, const Judged& judged, Alarm& alarm) {
  if (alarm.kind != AlarmKind::kTooWarm || judged.ready) return;
  const std::int64_t since = (judged.at - alarm.raised) / minutes{1};
  if (since % 60 != 0 && (since > 360 || since % 15 != 0)) return;
  const Cave& cave = body.caves.at(judged.cave);
  const Excursion& warm = cave.temperature.warm;
  const Instant began = warm.IsOpen() ? warm.Now().since : alarm.since;
  alarm.matters = MattersOf(body, cave, Heeded(body, cave, judged, alarm), began, judged.at);
}

void NoteOwn(Alarm& alarm, int sign, double core, const std::vector<WheelId>& wheels) {
  const auto same = std::ranges::find_if(
      alarm.own, [&](const OwnFurthest& own) { return std::ranges::count(own.wheels, wheels.front()) > 0; });
  if (same == alarm.own.end())
    alarm.own.push_back({core, wheels});
  else if (sign * (core - same->value) > 0)
    same->value = core;
}

// As far as anybody asks of an alarm.
constexpr std::size_t kMostColdDays = 200;

void NoteColdDay(Alarm& alarm, Date day, double whole, const std::vector<WheelId>& wheels) {
  const auto same = std::ranges::find_if(alarm.cold_days, [&](const ColdDay& cold) {
    return cold.day == day && std::ranges::count(cold.wheels, wheels.front()) > 0;
  });
  if (same != alarm.cold_days.end())
    same->low = std::min(same->low, whole);
  else if (alarm.cold_days.size() < kMostColdDays)
    alarm.cold_days.push_back({day, whole, wheels});
}

// How far the wheels themselves came: what a record of the event tells besides the air. Those in boxes that have a
// probe of their own follow that one.
void NoteOwn(const Body& body, const Judged& judged, Alarm& alarm) {
  if (judged.channel != ChannelKind::kTemperature) return;
  std::optional<Date> today;
  if (judged.sign < 0) today = body.caves.at(judged.cave).turn.DayOf(judged.at - kMinute);
  for (const auto& [id, cave] : body.caves) {
    if (std::ranges::count(Outwards(body, id), judged.cave) == 0) continue;
    for (const Stake::ClassAsking& asking : cave.temperature_stake.classes) {
      const auto now = WheelNowOf(body, cave, asking.kind, judged.at);
      if (!now || !now->settled) continue;
      NoteOwn(alarm, judged.sign, now->Core(), asking.wheels);
      if (today) NoteColdDay(alarm, *today, now->Whole(), asking.wheels);
    }
  }
}

// A door that stands open tells of its event alone where its cave rings of nothing else: how warm air and wheels
// became.
void NoteAtDoor(Body& body, const Judged& judged) {
  Alarm* const door = Standing(body, AlarmKind::kDoorOpen, judged.cave);
  if (!door || judged.channel != ChannelKind::kTemperature || judged.sign < 0) return;
  door->extreme = std::max(door->extreme, judged.Recent());
  NoteOwn(body, judged, *door);
}

// Two probes contradict each other, and one of them lies beyond the band: it may be the one that is right. Told
// quietly; what is louder needs the mean of all.
std::optional<Evidence> ByOneProbe(const Judged& judged, const Ladder& ladder, Side& side) {
  side.lone.Count(judged.said.size() > 1 && ladder.Beyond(judged.Worst(), ladder.edge), kMinute);
  if (side.lone.beyond < ladder.watch_after) return std::nullopt;
  return Evidence{Severity::kWatch, Why::kOneProbe, judged.at - side.lone.beyond};
}

bool OneProbeRings(const Body& body, CaveId cave) {
  return std::ranges::any_of(body.alarms, [cave](const Alarm& alarm) {
    return alarm.cave == cave && !alarm.over && alarm.why == Why::kOneProbe;
  });
}

void SayWhoSaysWhat(const Judged& judged, const Ladder& ladder, Alarm& alarm) {
  if (alarm.why != Why::kOneProbe || judged.said.size() < 2) return;
  alarm.said = judged.said;
  if (!ladder.Beyond(judged.Worst(), alarm.extreme)) return;
  alarm.extreme = judged.Worst();
  AddTouched(alarm, Touched(judged.stake, judged.sign, judged.Worst()));
}

void MaybeRaise(Body& body, const Judged& judged, const Ladder& ladder, Side& side, Decisions& out) {
  const auto reason = ReasonOf(judged, ladder, side);
  if (!reason || !MayRaise(body, judged.Kind(), judged.cave, reason->severity, judged.at)) return;
  // That its probes contradict each other is one event, whatever each of them would have.
  if (reason->why == Why::kOneProbe && OneProbeRings(body, judged.cave)) return;
  const Severity severity = reason->severity;
  if (side.edge.beyond == Millis{0}) side.extreme = judged.Mean();
  std::vector<WheelId> touched = Touched(judged.stake, judged.sign, side.extreme);
  if (LeftToAround(body, judged, ladder, side, severity, touched)) return;
  side.trails = false;
  Alarm alarm;
  alarm.kind = judged.Kind();
  alarm.severity = severity;
  alarm.why = reason->why;
  alarm.cave = judged.cave;
  alarm.since = side.edge.beyond > Millis{0} && IsOfTurning(reason->why) ? side.since : reason->since;
  alarm.raised = judged.at;
  alarm.value = judged.Mean();
  alarm.extreme = side.extreme;
  alarm.dose = side.dose;
  alarm.beyond = side.beyond;
  alarm.band = judged.Band();
  alarm.wheels = std::move(touched);
  if (alarm.why == Why::kOneProbe) alarm.value = judged.Worst();
  SayWhoSaysWhat(judged, ladder, alarm);
  Foresee(body, judged, alarm);
  NoteOwn(body, judged, alarm);
  Raise(body, std::move(alarm), judged.at, out);
}

// The air of this cave is back, and boxes inside keep its alarm open: it is counted anew, and what it came to is told.
void Hold(Body& body, const Judged& judged, Side& side) {
  const bool by_deadband = side.way.past >= Minutes(judged.settings.off_after);
  side.held = judged.at - (by_deadband ? side.way.past : side.way.inside);
  side.dose = 0;
  if (judged.sign > 0) body.caves.at(judged.cave).temperature.wheel_dose = 0;
}

// What happens to it from now on is another event, which may not hide behind the first. A defrost is none.
bool HasLeftAnew(const Body& body, const Judged& judged, const Ladder& ladder, const Side& side) {
  const bool newer = judged.evidence && judged.evidence->since > *side.held;
  if (!newer && !Reached(ladder, side, judged.Recent())) return false;
  const auto reason = ReasonOf(judged, ladder, side);
  return reason && reason->why != Why::kOneProbe &&
         MayRaise(body, judged.Kind(), judged.cave, reason->severity, judged.at);
}

void EndHeld(Body& body, const Judged& judged, const Ladder& ladder, Side& side, Alarm& alarm, Decisions& out) {
  alarm.back_since = side.held;
  side.held.reset();
  side.way = {};
  const bool well_inside = IsBack(ladder, judged.Mean(), judged.Deadband());
  End(body, alarm, judged.at, out, well_inside ? Ending::kReturned : Ending::kInside);
}

void FollowHeld(Body& body, const Judged& judged, const Ladder& ladder, Side& side, Alarm& alarm, Decisions& out) {
  if (HasLeftAnew(body, judged, ladder, side)) {
    EndHeld(body, judged, ladder, side, alarm, out);
    return MaybeRaise(body, judged, ladder, side, out);
  }
  NoteOwn(body, judged, alarm);
  alarm.inside_since = side.held;
  if (IsFollowedInside(body, judged.cave, judged.Kind(), judged.at - *side.held, judged.at)) return;
  if (!ladder.Beyond(judged.Mean(), ladder.edge)) return EndHeld(body, judged, ladder, side, alarm, out);
  // Out again, if only for a little: it goes on standing until it was seen to be back.
  side.held.reset();
  alarm.inside_since.reset();
}

void FollowStanding(Body& body, const Judged& judged, const Ladder& ladder, Side& side, Alarm& alarm, Decisions& out) {
  if (side.held) return FollowHeld(body, judged, ladder, side, alarm, out);
  alarm.dose = side.dose;
  alarm.beyond = side.beyond;
  alarm.band = judged.Band();
  Foresee(body, judged, alarm);
  NoteOwn(body, judged, alarm);
  SayWhoSaysWhat(judged, ladder, alarm);
  const bool within = NeverLeft(alarm);
  // What rang by not turning may lie inside the band all the while, and touches no more wheels then.
  for (const double furthest : {judged.Mean(), side.extreme}) {
    if (!ladder.Beyond(furthest, alarm.extreme)) continue;
    alarm.extreme = furthest;
    if (ladder.Beyond(furthest, ladder.edge)) AddTouched(alarm, Touched(judged.stake, judged.sign, furthest));
  }
  // From here on it is what its kind says, and is so from now.
  if (within && !NeverLeft(alarm)) alarm.since = side.edge.beyond > Millis{0} ? side.since : judged.at;
  const auto reason = ReasonOf(judged, ladder, side);
  if (reason && reason->severity > alarm.severity) {
    alarm.why = reason->why;
    alarm.said.clear();
    alarm.value = judged.Mean();
    Worsen(body, alarm, reason->severity, judged.at, out);
  }
  // What a slow sign raised ends by that sign; the air of the band may be well all the while.
  if (alarm.why == Why::kBelowNormal) return;
  CountBack(judged, ladder, judged.Deadband(), side.way, judged.evidence.has_value());
  alarm.inside_since = side.way.inside > Millis{0} ? std::optional(judged.at - side.way.inside) : std::nullopt;
  const Millis off_after = Minutes(judged.settings.off_after), back = BackFor(side.way, judged.settings);
  if (back < off_after) return;
  if (judged.channel == ChannelKind::kTemperature) {
    if (back == off_after) CountAnewInside(body, judged.cave, judged.Kind());
    if (IsFollowedInside(body, judged.cave, judged.Kind(), back, judged.at)) return Hold(body, judged, side);
  }
  EndBack(body, judged, side.way, alarm, out);
  side = {};
}

void JudgeSide(Body& body, Judged& judged, Side& side, Decisions& out) {
  const Ladder ladder = judged.Limits();
  const auto by_one = ByOneProbe(judged, ladder, side);
  if (!judged.evidence) judged.evidence = by_one;
  Count(ladder, side, judged.Mean(), judged.Deadband(), judged.at);
  const double past = ladder.side * (judged.Mean() - judged.OwnLimits().edge);
  side.shown = past >= HalfOfShown(judged.channel) || (side.shown && past > 0);
  if (!Standing(body, judged.Kind(), judged.cave)) side.held.reset();
  if (Alarm* const standing = Standing(body, judged.Kind(), judged.cave)) {
    standing->judged += kMinute;
    FollowStanding(body, judged, ladder, side, *standing, out);
  } else if (side.edge.beyond == Millis{0} && !judged.evidence) {
    // Inside for long enough: this was not the beginning of anything.
    side.dose = 0;
    side.beyond = {};
    if (judged.channel == ChannelKind::kTemperature && judged.sign > 0) {
      body.caves.at(judged.cave).temperature.wheel_dose = 0;
    }
  } else {
    MaybeRaise(body, judged, ladder, side, out);
  }
}

// `out`: as it was before the hole, which proves nothing and takes nothing away.
void Forget(Body& body, CaveId id, ChannelKind kind, int sign, Side& side, bool out) {
  if (!Standing(body, KindOf(kind, sign), id)) {
    side = {};
    return;
  }
  // What stands goes on standing until the air was seen to be back for long enough.
  if (out && side.edge.beyond > Millis{0}) return;
  side.edge = side.act = side.urgent = side.lone = {};
  side.way = {};
  side.held.reset();
}

AirState Beyond(int side) { return {CaveState::kOutOfBand, side}; }

}  // namespace

AirMean MeanOf(const Body& body, const std::vector<ChannelId>& channels, Instant at) {
  AirMean air;
  const auto speaks = [&](const Channel& channel) { return channel.Speaks(at); };
  bool any_settled = false;
  for (const ChannelId id : channels) {
    const Channel& channel = *body.FindChannel(id);
    const bool doubted = speaks(channel) && channel.doubt.Any();
    air.doubted |= doubted;
    any_settled |= speaks(channel) && channel.Settled(at) && !doubted;
    if (channel.heard && (!air.latest_at || channel.measured > *air.latest_at)) {
      air.latest = static_cast<double>(channel.latest) / 1000.0;
      air.latest_at = channel.measured;
    }
  }
  Average mean, recent, last, before, long_before;
  for (const ChannelId id : channels) {
    const Channel& channel = *body.FindChannel(id);
    if (!speaks(channel) || channel.doubt.Any() || (any_settled && !channel.Settled(at))) continue;
    air.window_minutes = channel.window.Minutes();
    const auto own = channel.window.Mean();
    // A probe slower than the window, or one that has only just spoken: its last word is what is known.
    const double known = own.value_or(static_cast<double>(channel.latest) / 1000.0);
    mean.Add(known);
    recent.Add(channel.window.Recent().value_or(known));
    last.Add(channel.Latest());
    before.Add(channel.window.Mean(1));
    long_before.Add(channel.window.Mean(2));
  }
  air.mean = mean.Mean();
  air.recent = recent.Mean();
  air.last = last.Mean();
  // Only where every channel can tell what was: a channel that joined would look like a movement.
  if (before.count == mean.count) air.before = before.Mean();
  if (long_before.count == mean.count) air.long_before = long_before.Mean();
  air.settled = any_settled;
  return air;
}

std::vector<ProbeSaid> SaidBy(const Body& body, const std::vector<ChannelId>& channels, Instant at) {
  std::vector<ProbeSaid> said;
  for (const ChannelId id : channels) {
    const Channel& channel = *body.FindChannel(id);
    const auto mean = channel.window.Mean();
    if (!mean || !channel.Speaks(at) || !channel.Settled(at) || channel.doubt.Any()) continue;
    said.push_back({channel.probe, channel.kind, *mean});
  }
  return said;
}

void JudgeMinute(Body& body, CaveId id, Cave& cave, ChannelKind kind, Instant at, Decisions& out) {
  const Stake& stake = cave.StakeOf(kind);
  if (!stake.band) return;
  const AirMean air = MeanOf(body, cave.Channels(kind), at);
  // While its probe is silent, and for the window after, the rules of the air rest: a mean across a hole shows ghosts.
  if (!air.mean || !air.settled) return;
  AirWatch& watch = cave.Air(kind);
  NoteBand(watch, *stake.band, *air.mean, cave.Limit(kind) || cave.ready_cheese, at);
  if (at - watch.judged > kForgetAfter) {
    Forget(body, id, kind, 1, watch.high, *air.mean > stake.band->high);
    Forget(body, id, kind, -1, watch.low, *air.mean < stake.band->low);
    watch.high_step = watch.low_step = {};
  }
  watch.judged = at;
  std::vector<ProbeSaid> said;
  if (watch.apart.beyond > Millis{0}) said = SaidBy(body, cave.Channels(kind), at);
  for (const int sign : {1, -1}) {
    Judged judged{id, stake, kind, sign, air, at, cave.settings, false, watch.before, {}, said};
    judged.ready = cave.ready_cheese && kind == ChannelKind::kTemperature;
    if (kind == ChannelKind::kTemperature) judged.evidence = GatherEvidence(body, id, cave, sign, air, at);
    JudgeSide(body, judged, sign > 0 ? watch.high : watch.low, out);
    JudgeSteps(body, judged, sign > 0 ? watch.high_step : watch.low_step, watch.steps, out);
    NoteAtDoor(body, judged);
  }
}

void EndUnjudged(Body& body, CaveId id, Cave& cave, ChannelKind kind, Instant at, Decisions& out) {
  if (cave.StakeOf(kind).band && !cave.Channels(kind).empty()) return;
  // Without a probe nobody saw it come back.
  const Ending ending = cave.Channels(kind).empty() ? Ending::kTakenDown : Ending::kNotAsked;
  for (const int sign : {1, -1}) {
    if (Alarm* const standing = Standing(body, KindOf(kind, sign), id)) End(body, *standing, at, out, ending);
    EndSteps(body, KindOf(kind, sign), id, at, out, ending);
  }
  AirWatch& watch = cave.Air(kind);
  const Excursion warm = watch.warm, cold = watch.cold;  // what the air usually does is not forgotten
  watch = {};
  watch.warm = warm;
  watch.cold = cold;
  watch.warm.Drop();
  watch.cold.Drop();
}

int TrendOf(ChannelKind kind, const AirMean& air) {
  if (!air.mean || !air.recent || !air.before || !air.settled) return 0;
  const double least = kind == ChannelKind::kTemperature ? kTemperatureTrend : kHumidityTrend;
  const double lately = *air.recent - *air.mean, over_window = *air.mean - *air.before;
  if (std::abs(over_window) < least || lately * over_window <= 0) return 0;
  // A mean rises for a while behind air that has turned.
  const double sign = over_window > 0 ? 1 : -1;
  if (air.last && sign * (*air.mean - *air.last) >= least) return 0;
  return over_window > 0 ? 1 : -1;
}

namespace {

// After how many windows a mean that moved by `older` and then by `newer`, a window each, has gone on by `room`; none:
// not within the horizon. By the slower of the two, so that a sudden bump is not drawn out into a line; what slows down
// goes on slowing down, as whatever comes to rest does.
std::optional<double> WindowsUntil(double newer, double older, double room) {
  const double sign = newer > 0 ? 1 : -1, slows = std::min(newer / older, 1.0);
  double moves = slows < 1 ? newer * slows : older, gone = 0;
  for (int window = 0; window < kDriftHorizonWindows; ++window) {
    if ((gone + moves - room) * sign > 0) return window + std::max(0.0, (room - gone) / moves);
    gone += moves;
    moves *= slows;
  }
  return std::nullopt;
}

}  // namespace

AirState StateOf(ChannelKind kind, const AirMean& air, const Figure& band, const AirWatch* watch) {
  // What is written like the edge lies within it. What was further out stays out until it is no longer beyond the edge
  // at all, so that a word does not come and go with a digit.
  const double mean = *air.mean, shown = HalfOfShown(kind);
  if (mean >= band.high + shown || (watch && watch->high.shown && mean > band.high)) return Beyond(1);
  if (mean <= band.low - shown || (watch && watch->low.shown && mean < band.low)) return Beyond(-1);
  if (!air.before || !air.long_before || !air.settled) return {};
  const double newer = mean - *air.before, older = *air.before - *air.long_before;
  const double least = kind == ChannelKind::kTemperature ? kTemperatureDrift : kHumidityDrift;
  if (newer * older <= 0 || std::abs(newer + older) < least) return {};
  // A lid that was lifted lowers the mean for as long as that holds it, while the air is on its way back.
  const bool turned = air.recent && (*air.recent - mean) * newer <= 0;
  if (kind == ChannelKind::kHumidity && turned) return {};
  // Behind a door that was shut, or a defrost that is over, a mean rises for a while yet.
  constexpr double kFar = 1;  // K; a plant's own cycle swings by less
  const bool fell = air.last && (newer > 0 ? mean - *air.last : *air.last - mean) >= kFar;
  if (kind == ChannelKind::kTemperature && fell) return {};
  // What comes back from one side leads to the middle, and not across it.
  if ((mean - (band.low + band.high) / 2) * newer <= 0) return {};
  if (newer > 0 ? *air.long_before < band.low : *air.long_before > band.high) return {};
  const auto windows = WindowsUntil(newer, older, (newer > 0 ? band.high : band.low) - mean);
  if (!windows) return {};
  const auto seconds = std::chrono::seconds{std::lround(*windows * air.window_minutes * 60)};
  return {CaveState::kDrifting, newer > 0 ? 1 : -1, seconds};
}

}  // namespace rindwatch::rules::watch
