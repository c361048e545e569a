#include "rules/alarms/evidence.hpp"

#include <algorithm>
#include <cmath>

#include "rules/alarms/freezing.hpp"
#include "rules/alarms/hearing.hpp"
#include "rules/alarms/one_event.hpp"
#include "rules/alarms/plan_step.hpp"
#include "rules/alarms/plant_power.hpp"
#include "rules/alarms/presence.hpp"
#include "rules/alarms/shapes.hpp"
#include "rules/alarms/side.hpp"
#include "rules/alarms/stake.hpp"
#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {
namespace {

// How far the 10-minute mean lies beyond the usual of its channels; before anything is learned, beyond the band.
std::optional<double> BeyondUsual(const Body& body, const Cave& cave, int sign, const AirMean& air, Instant at) {
  if (!air.recent) return std::nullopt;
  double usual = 0;
  int count = 0, learned = 0;
  for (const ChannelId id : cave.temperature_channels) {
    const Channel& channel = *body.FindChannel(id);
    if (!channel.Speaks(at) || channel.doubt.Any() || !channel.Settled(at)) continue;
    ++count;
    const auto own = sign > 0 ? channel.habit.spread.UsualHigh() : channel.habit.spread.UsualLow();
    if (!own) continue;
    usual += *own;
    ++learned;
  }
  if (count == 0) return std::nullopt;
  if (learned == count) return sign * (*air.recent - usual / count);
  const Figure& band = *cave.temperature_stake.band;
  return sign * (*air.recent - (sign > 0 ? band.high : band.low));
}

Instant LearnsSince(const Body& body, const Cave& cave, Instant at) {
  Instant since = at;
  for (const ChannelId id : cave.temperature_channels) {
    since = std::min(since, body.FindChannel(id)->habit.since.value_or(at));
  }
  return since;
}

// A wheel beyond its own limit by `margin`, and the largest distance of any beyond it. Where the band of the cave goes
// further, as no band suits all that lie there, a wheel that wants it cooler is beyond it all its days: that is told
// beside the cave, and proves no event.
struct Beyond {
  bool any = false, settled = false;  // any: of those that may ring
  double farthest = 0;                // of those beyond that may ring
  double nearest = -1e9;              // the largest distance, negative while all are inside
};
Beyond WheelsBeyond(const Body& body, Cave& cave, double margin, Instant at) {
  Beyond beyond;
  std::vector<SeenWithin> seen;
  for (const Stake::ClassAsking& asking : cave.temperature_stake.classes) {
    if (!asking.band) continue;
    const auto now = WheelNowOf(body, cave, asking.kind, at);
    if (!now || !now->settled) continue;
    beyond.settled = true;
    const SeenWithin within{asking.kind, std::max(asking.band->high, ForgivenWarmth(cave).high)};
    const double past = now->Core() - within.limit;
    beyond.nearest = std::max(beyond.nearest, past);
    if (past > margin && std::ranges::count(cave.temperature.seen_within, within) == 0) continue;
    seen.push_back(within);
    beyond.farthest = std::max(beyond.farthest, past);
    beyond.any |= past > margin;
  }
  // A limit that has moved has to be seen anew.
  cave.temperature.seen_within = std::move(seen);
  return beyond;
}

// A day with an alarm of that weight is no day to learn from.
void SpoilDay(Body& body, CaveId id, const Cave& cave) {
  if (!IsIll(body, id)) return;
  for (const ChannelId channel : cave.temperature_channels) body.FindChannel(channel)->habit.spread.SpoilToday();
}

// A rush of air is a door: it comes at once and ends when somebody shuts it. It is loud only when it has come near to
// the wheels; before that it is told quietly. But a room makes no cave damper: a plant that failed with a defrost does.
constexpr double kNearWheel = 0.3;  // K
constexpr double kDamperBy = 4;     // points
// Air that has become much drier came in from the room, through a door that stands ajar: it comes to rest, and is loud
// only once it goes somewhere: clearly past the band, or a wheel within reach of its end. Without a plant the air
// becomes damper, for the rinds go on drying.
constexpr double kFromRoomBy = 5;                         // points
constexpr double kClearlyPast = 0.5, kWithinReach = 0.5;  // K

Severity LoudnessOf(const Settings& settings, const Excursion::Course& course, const Beyond& wheels, double past) {
  if (!wheels.settled) return Severity::kAct;
  const double damper = course.humidity_far - course.humidity_began;
  if (Excursion::CameAtOnce(settings, course) && damper < kDamperBy)
    return wheels.nearest < -kNearWheel ? Severity::kWatch : Severity::kAct;
  const bool from_outside = course.humidity_far - course.humidity_began <= -kFromRoomBy;
  return from_outside && past < kClearlyPast && wheels.nearest < -kWithinReach ? Severity::kWatch : Severity::kAct;
}

// The pace of its last ten minutes, and of all of it so far; kelvins a minute.
struct Pace {
  double now, so_far;
};
Pace PaceOf(const Excursion& excursion, double beyond, const AirMean& air, Instant at) {
  const Excursion::Course& course = excursion.Now();
  const double minutes_out = static_cast<double>((at - course.since) / kMinute);
  // The last third of the window lies by a third of it later than the middle of the whole.
  return {(*air.recent - *air.mean) / (air.window_minutes / 3.0), (beyond - course.began) / std::max(1.0, minutes_out)};
}

// Warm air that has come to stay goes up all at once: a defrost, or a door, on top of it. A plant that dies under warm
// air can be as quick, and is told as much later as a defrost is given.
bool IsBump(const Excursion& excursion, double beyond, const AirMean& air, Instant at) {
  constexpr Millis kComeToStay = hours{2};
  constexpr double kQuick = 0.045;  // K a minute; Model: the plant's own cycle makes two thirds of that
  return at - excursion.Now().since >= kComeToStay && PaceOf(excursion, beyond, air, at).now > kQuick;
}

// Warm air has left the band, or does so soon: it has not turned, and at the slower of its pace so far and its pace of
// now it is out within the time that the settings give it. What comes to rest inside, as behind a door ajar, is no
// failure.
bool LeavesTheBand(const Settings& settings, const Excursion& excursion, double beyond, const AirMean& air, double edge,
                   Instant at) {
  if (*air.recent > edge) return true;
  if (excursion.HasTurned()) return false;
  const Pace pace = PaceOf(excursion, beyond, air, at);
  return *air.recent + std::min(pace.so_far, pace.now) * settings.excursion_leaves_within > edge;
}

// At this pace no wheel comes to the end of its band within what can be foreseen; where nothing can be foreseen, as the
// air goes up and down, wheels come no further than its mean. What perhaps never comes to it, in air that has hardly
// left the band, is no more certain: a thermostat that drifts wakes nobody for a tenth of a degree.
bool IsFarFromAll(const Body& body, const Cave& cave, const Excursion& excursion, const AirMean& air,
                  const Figure& band, Instant at) {
  const std::vector<Matter> matters = MattersOf(body, cave, excursion.Now().since, at);
  if (matters.empty()) return *air.mean <= band.high;
  const bool hardly = *air.mean <= band.high + 2 * HalfOfShown(ChannelKind::kTemperature);
  return std::ranges::all_of(matters,
                             [&](const Matter& matter) { return matter.IsFar() || (hardly && !matter.latest); });
}

// Air whose last word lies so far back inside its last ten minutes is on its way back. Model: a probe's noise is a
// tenth of a degree, the fall of a defrost one or two in ten minutes.
constexpr double kFallsBy = 0.3;

// How grave an open excursion is that has become a failure; none: it is no failure.
std::optional<Severity> FailureOf(const Body& body, const Cave& cave, const Excursion& excursion, int sign,
                                  double beyond, const AirMean& air, const Beyond& wheels, Instant at) {
  const Settings& s = cave.settings;
  const double floor = sign > 0 ? s.excursion_turn_floor : s.cold_turn_floor;
  // No patience is due to air that rises while its plant draws nothing for longer than it ever rests.
  const bool dead = sign > 0 && excursion.IsOpen() && !excursion.HasTurned() && PlantStandsStill(body, cave, at);
  if (!dead && !excursion.IsTooLong(s, floor, LearnsSince(body, cave, at), at)) return std::nullopt;
  if (!excursion.IsNews(s, beyond)) return std::nullopt;
  // The last words tell of a defrost that is over, or of a door that was shut, before any mean does.
  if (air.last && sign * (*air.recent - *air.last) >= kFallsBy) return std::nullopt;
  // It has to go somewhere where it matters.
  const Figure band = ForgivenWarmth(cave);
  if (sign < 0) return *air.recent >= band.low ? std::nullopt : std::optional(Severity::kWatch);
  // Inside warm air that has come to stay, the top of a defrost or a door is no failure of its own: while the mean is
  // in, as it is written, nor where that has only just lifted it out.
  const bool inside = *air.mean <= band.high + HalfOfShown(ChannelKind::kTemperature);
  if (!dead && inside && !excursion.Rises(Minutes(floor), at)) return std::nullopt;
  const bool only_just = cave.temperature.high.edge.beyond < Minutes(floor);
  if (!dead && only_just && IsBump(excursion, beyond, air, at)) return std::nullopt;
  if (!LeavesTheBand(s, excursion, beyond, air, band.high, at)) return std::nullopt;
  const Severity loudness = LoudnessOf(s, excursion.Now(), wheels, *air.recent - band.high);
  const bool far = loudness >= Severity::kAct && wheels.settled && IsFarFromAll(body, cave, excursion, air, band, at);
  return far ? Severity::kWatch : loudness;
}

double DampBetween(const Body& body, const Cave& cave, int newest, int oldest, Instant at) {
  double sum = 0;
  int count = 0;
  for (const ChannelId id : cave.humidity_channels) {
    const Channel& channel = *body.FindChannel(id);
    if (!channel.Speaks(at) || channel.doubt.Any() || !channel.Settled(at)) continue;
    const auto mean = channel.window.Between(newest, oldest);
    if (!mean) return 0;
    sum += *mean;
    ++count;
  }
  return count > 0 ? sum / count : 0;
}

// How damp the air is; of a moment ago and of before only while it is out.
Excursion::Damp DampOf(const Body& body, const Cave& cave, bool out, Instant at) {
  constexpr int kLately = 10, kFrom = 9, kTo = 38;  // minutes
  Excursion::Damp damp{cave.humidity_now.value_or(0)};
  if (!out || !cave.humidity_now) return damp;
  damp.lately = DampBetween(body, cave, 1, kLately, at);
  damp.before = DampBetween(body, cave, kFrom, kTo, at);
  return damp;
}

// A door was left open behind a round, which was asked after, and the air has turned: nothing quiet is left to tell.
bool IsOfTheRound(Body& body, CaveId id, const Cave& cave, const Excursion& excursion) {
  return excursion.HasTurned() && BeganWithRound(cave, excursion.Now().since) &&
         Standing(body, AlarmKind::kTooWarm, id) == nullptr;
}

// A door that stood open for long lifts the mean of a day by as much as a plant that drifts does: half of what rings is
// taken for that. What lasted longer is no door.
bool WarmsTheDay(const Settings& settings, const Excursion::Course& course, Instant ended) {
  constexpr Millis kLongestDoor = hours{4};
  const Millis lasted = ended - course.since;
  // Up and back: half of its height on the mean.
  const double lifts = course.peak / 2 * static_cast<double>(lasted / kMinute) / (24 * 60);
  return lasted < kLongestDoor && lifts >= settings.day_mean_up / 2;
}

std::optional<Evidence> ByExcursion(Body& body, CaveId id, Cave& cave, int sign, const AirMean& air,
                                    const Beyond& wheels, Instant at) {
  Excursion& excursion = sign > 0 ? cave.temperature.warm : cave.temperature.cold;
  const auto beyond = BeyondUsual(body, cave, sign, air, at);
  // What is no number here was read from a damaged past.
  if (!beyond || !std::isfinite(*beyond) || FollowsAnother(body, id)) return std::nullopt;
  const bool out = *beyond > cave.settings.excursion_above;
  const auto ended = excursion.Take(cave.settings, *beyond, DampOf(body, cave, out, at), at);
  // What rang teaches nothing, also if that was over before the air was at rest.
  if (ended && !WasIll(body, id, ended->since)) excursion.Learn(cave.settings, *ended, at);
  if (ended && sign > 0) NameShape(body, id, cave, *ended, at);
  if (ended && sign > 0 && WarmsTheDay(cave.settings, *ended, at)) NoteWarmth(cave, at);
  if (const auto severity = FailureOf(body, cave, excursion, sign, *beyond, air, wheels, at))
    excursion.Tell(*severity, *beyond);
  const auto told = excursion.Told();
  if (told && *told < Severity::kAct && IsOfTheRound(body, id, cave, excursion)) return std::nullopt;
  if (!told) return std::nullopt;
  const bool learned = Excursion::HasLearnedBy(cave.settings, at, LearnsSince(body, cave, at));
  return Evidence{*told, learned ? Why::kNotTurning : Why::kNotTurningYet, excursion.Since()};
}

std::optional<Evidence> ByWheels(Cave& cave, const AirMean& air, const Beyond& beyond, Instant at) {
  const Settings& s = cave.settings;
  AirWatch& watch = cave.temperature;
  watch.wheel.Count(beyond.any, kMinute);
  const double edge = ForgivenWarmth(cave).high;
  watch.wheel_dose += (beyond.settled ? beyond.farthest : std::max(0.0, *air.mean - edge)) / 60;
  // Where the air is back inside, the wheels are on their way.
  if (watch.wheel.beyond >= Minutes(s.wheel_after) && *air.recent > edge)
    return Evidence{Severity::kAct, Why::kWheel, at - watch.wheel.beyond};
  const double most = cave.temperature_stake.tender ? s.warm_dose_tender : s.warm_dose_hardy;
  if (watch.wheel_dose >= most && *air.mean > edge) return Evidence{Severity::kAct, Why::kDose, watch.high.since};
  return std::nullopt;
}

// A wheel that comes near to where the air would ring: a small one is there before the air has been for its hour.
std::optional<Evidence> ByColdWheels(const Body& body, Cave& cave, const AirMean& air, Instant at) {
  const Ladder ladder = LadderFor(AlarmKind::kTooCold, ForgivenWarmth(cave), false, cave.settings);
  std::optional<double> coldest;
  for (const Stake::ClassAsking& asking : cave.temperature_stake.classes) {
    if (!asking.band) continue;
    const auto now = WheelNowOf(body, cave, asking.kind, at);
    if (now && now->settled) coldest = std::min(coldest.value_or(now->Core()), now->Core());
  }
  AirWatch& watch = cave.temperature;
  // The air itself has to be beyond: evaporation alone holds a rind a little under it.
  watch.cold_wheel.Count(*air.mean < ladder.edge && coldest &&
                             *coldest < std::min(ladder.act_at + cave.settings.cold_wheel_near, ladder.edge),
                         kMinute);
  if (watch.cold_wheel.beyond < Minutes(cave.settings.cold_wheel_after)) return std::nullopt;
  return Evidence{Severity::kAct, Why::kWheel, at - watch.cold_wheel.beyond};
}

// Air beyond its cold edge that falls like a stone: a plant that runs on. By the time that its distance has lasted long
// enough it would be at freezing, and the small wheels soon after it. Model: a plant's own cycle makes a quarter of
// this pace from window to window; what a door or a defrost let in is cooled as fast, and comes to rest inside the
// band.
std::optional<Evidence> ByFreezing(Cave& cave, const AirMean& air, Instant at) {
  constexpr double kLikeAStone = 2.0 / 60;  // K a minute
  constexpr Millis kFallsFor = minutes{5};
  const Ladder ladder = LadderFor(AlarmKind::kTooCold, ForgivenWarmth(cave), false, cave.settings);
  AirWatch& watch = cave.temperature;
  const auto fall = FallOf(air);
  const bool falls = fall && *fall >= kLikeAStone && *air.mean < ladder.edge;
  const auto left = falls ? FreezesAfter(air, *ladder.urgent_at) : std::nullopt;
  watch.falls.Count(left && *left <= Minutes(cave.settings.cold_freezes_within), kMinute);
  if (watch.falls.beyond < kFallsFor) return std::nullopt;
  return Evidence{Severity::kAct, Why::kFreezesSoon,
                  watch.low.edge.beyond > Millis{0} ? watch.low.since : at - watch.falls.beyond};
}

// As long as nothing is learned an excursion is measured from the band. Where that has moved, the air of a moment ago
// proves nothing.
void BarWhereBandMoved(const Body& body, Cave& cave, Instant at) {
  AirWatch& watch = cave.temperature;
  if (watch.moved != at || HasLearned(body, cave)) return;
  watch.warm.Bar();
  watch.cold.Bar();
}

}  // namespace

bool HasLearned(const Body& body, const Cave& cave) {
  return std::ranges::all_of(cave.temperature_channels,
                             [&](ChannelId id) { return body.FindChannel(id)->habit.spread.UsualHigh().has_value(); });
}

std::optional<Evidence> GatherEvidence(Body& body, CaveId id, Cave& cave, int sign, const AirMean& air, Instant at) {
  if (cave.ready_cheese) return std::nullopt;
  if (sign > 0) BarWhereBandMoved(body, cave, at);
  if (sign > 0) SpoilDay(body, id, cave);
  if (sign < 0) {
    const auto by_fall = ByFreezing(cave, air, at);
    const auto by_cold_wheels = ByColdWheels(body, cave, air, at);
    const auto by_cold = ByExcursion(body, id, cave, sign, air, {}, at);
    if (by_fall) return by_fall;
    return by_cold_wheels ? by_cold_wheels : by_cold;
  }
  const Beyond wheels = WheelsBeyond(body, cave, cave.settings.wheel_beyond, at);
  const auto by_excursion = ByExcursion(body, id, cave, sign, air, wheels, at);
  const auto by_wheels = ByWheels(cave, air, wheels, at);
  return by_wheels ? by_wheels : by_excursion;
}

}  // namespace rindwatch::rules::watch
