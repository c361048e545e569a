#include "rules/alarms/slow_signs.hpp"

#include <algorithm>

#include "rules/alarms/one_event.hpp"
#include "rules/alarms/plant_power.hpp"
#include "rules/alarms/side.hpp"
#include "rules/alarms/stake.hpp"
#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {
namespace {

// So many falls at least, in a day and in the week before: less is no saw, the plant does not cycle.
constexpr std::int64_t kFallsOfDay = 8, kFallsOfWeek = 40;
constexpr std::int64_t kMinutesOfDay = std::int64_t{18} * 60, kMinutesOfHalfDay = std::int64_t{9} * 60;
constexpr std::size_t kDaysOfNormal = 4;
// The week that the falls of a day are held against lies some days back: ice grows for days.
constexpr std::size_t kDaysOfIcing = 3;
// So slow that they are looked at only so often.
constexpr Millis kEvery = minutes{10};
// And is over when it is back by so much of the way.
constexpr double kBackShare = 0.5;

// A measure of one channel, averaged over those of a cave that have one.
struct Average {
  double sum = 0;
  int count = 0;
  void Add(double value) {
    sum += value;
    ++count;
  }
  std::optional<double> Mean() const { return count > 0 ? std::optional{sum / count} : std::nullopt; }
};

template <typename Measure>
std::optional<double> OverChannels(const Body& body, const std::vector<ChannelId>& channels, Instant at,
                                   Measure measure) {
  Average average;
  for (const ChannelId id : channels) {
    const Channel& channel = *body.FindChannel(id);
    if (!channel.Speaks(at) || channel.doubt.Any()) continue;
    if (const std::optional<double> one = measure(channel.habit)) average.Add(*one);
  }
  return average.Mean();
}

std::optional<double> FallShare(const Habit& habit) {
  if (habit.fall_rate.RecentCount() < kFallsOfDay || habit.fall_rate.NormalCount() < kFallsOfWeek) return std::nullopt;
  const auto normal = habit.fall_rate.NormalMean(kDaysOfIcing);
  if (!normal || habit.fall_rate.NormalDays() < kDaysOfNormal + kDaysOfIcing) return std::nullopt;
  return *habit.fall_rate.RecentMean() / *normal;
}

std::optional<double> DayUp(const Habit& habit) {
  if (habit.day_mean.RecentCount() < kMinutesOfDay || habit.day_mean.NormalDays() < kDaysOfNormal) return std::nullopt;
  return *habit.day_mean.RecentMean() - *habit.day_mean.NormalMean();
}

// What is told of the last day: an alarm at act, which teaches nothing, stops the learned mean, and not the air.
std::optional<double> WholeDayUp(const Habit& habit) {
  const auto day = habit.whole_day.RecentMean(), normal = habit.day_mean.NormalMean();
  return day && normal ? std::optional(*day - *normal) : std::nullopt;
}

// By the hours in which air that is mended has shown that it stays so: a mean of a day holds what is over for another.
std::optional<double> LatelyUp(const Habit& habit) {
  constexpr std::size_t kHours = 6;
  const auto lately = habit.day_mean.NewestMean(kHours), normal = habit.day_mean.NormalMean();
  return lately && normal ? std::optional(*lately - *normal) : std::nullopt;
}

std::optional<double> BelowNormal(const Habit& habit) {
  if (habit.humidity.RecentCount() < kMinutesOfHalfDay || habit.humidity.NormalDays() < kDaysOfNormal) return {};
  return *habit.humidity.NormalMean() - *habit.humidity.RecentMean();
}

struct Sign {
  AlarmKind kind;
  Why why;
  Counter& counter;
  Millis after;                       // so long it stands before it is told: a warm evening is none
  std::optional<double> value;        // none: it rests
  double limit;                       // beyond which it is one
  double back;                        // before which it is over
  std::optional<double> shown = {};   // told as the value; none: the value itself
  bool of_day = true;                 // a mean of a day; else it speaks of now
  std::optional<double> lately = {};  // the same of the last hours, where those end it sooner

  bool IsBack(double by) const { return limit > back ? by < back : by > back; }
};

// What was told and came back hours ago is not told again from the mean that still holds it, unless it gets clearly
// worse than it was.
void NoteSpent(const Sign& sign, bool stands) {
  Counter& counter = sign.counter;
  const double clearly = counter.extreme + sign.limit - sign.back;
  const bool worse = sign.limit > sign.back ? *sign.value > clearly : *sign.value < clearly;
  if (stands)
    counter.spent = sign.lately && sign.IsBack(*sign.lately);
  else if (worse || sign.IsBack(*sign.value))
    counter.spent = false;
}

// A plant that no longer cycles, or air that was ill all week, gives it nothing to go by: what stood of it is not known
// any more after two days.
void RestSign(Body& body, CaveId id, const Sign& sign, Instant at, Decisions& out) {
  constexpr Millis kForgottenAfter = hours{48};
  sign.counter.unjudged += kEvery;
  Alarm* const standing = Standing(body, sign.kind, id);
  if (!standing || standing->why != sign.why) return;
  // What is told of it goes on.
  if (sign.shown && sign.kind == AlarmKind::kPlantWeak) {
    standing->value = *sign.shown;
    standing->extreme = sign.counter.extreme = std::max(sign.counter.extreme, *sign.shown);
  }
  if (sign.counter.unjudged < kForgottenAfter) return;
  sign.counter = {};
  End(body, *standing, at, out, Ending::kNotKnown);
}

void FollowSign(Body& body, CaveId id, const Cave& cave, const Sign& sign, Instant at, Decisions& out) {
  Counter& counter = sign.counter;
  if (!sign.value) return RestSign(body, id, sign, at, out);
  counter.unjudged = Millis{0};
  const bool rising = sign.limit > sign.back;
  const double shown = sign.shown.value_or(*sign.value);
  const Alarm* const standing = Standing(body, sign.kind, id);
  NoteSpent(sign, standing != nullptr && standing->why == sign.why);
  const bool beyond = !counter.spent && (rising ? *sign.value >= sign.limit : *sign.value <= sign.limit);
  if (beyond && counter.on.beyond == Millis{0}) {
    counter.since = at - kEvery;
    // What pauses while it stands has been as far as it was.
    if (!standing || standing->why != sign.why) counter.extreme = shown;
  }
  // What is shown of dry air falls while the sign rises.
  const bool most = rising && sign.kind != AlarmKind::kTooDry;
  if (!counter.spent) counter.extreme = most ? std::max(counter.extreme, shown) : std::min(counter.extreme, shown);
  counter.on.Count(beyond, kEvery);
  // One kind has several signs: what another one raised is not ended by this one.
  if (standing && standing->why != sign.why) return;
  Finding found{.kind = sign.kind, .cave = id};
  // A mean of a day is no news of what was told and is over.
  if (counter.on.beyond >= sign.after && !(sign.of_day && !standing && IsOfWhatIsOver(body, sign.kind, id)))
    found.severity = Severity::kWatch;
  found.back = counter.spent || sign.IsBack(*sign.value);
  found.off_after = Minutes(cave.settings.off_after);
  found.since = counter.since;
  found.value = shown;
  found.extreme = counter.extreme;
  found.every = kEvery;
  found.why = sign.why;
  const Stake& stake = sign.kind == AlarmKind::kTooDry ? cave.humidity_stake : cave.temperature_stake;
  if (sign.kind == AlarmKind::kTooDry) found.band = stake.band;
  for (const Stake::Asking& asking : stake.wheels) found.wheels.push_back(asking.wheel);
  Follow(body, found, counter.back, at, out);
}

// Runs nearly all of the last two hours, and the air warms all the same; none: it cannot be told.
std::optional<bool> RunsOn(const Body& body, const Cave& cave, Instant at) {
  const AirMean air = MeanOf(body, cave.temperature_channels, at);
  if (!PlantTells(body, cave, at) || !air.mean || !air.settled || !air.before) return std::nullopt;
  const double rises = (*air.mean - *air.before) / air.window_minutes * 60;
  const Settings& s = cave.settings;
  return cave.plant.runs && *cave.plant.share.RecentMean() >= s.plant_runs_share && rises >= s.plant_rises;
}

// Stands still while the air warms; none: it cannot be told.
std::optional<bool> StandsStill(const Body& body, const Cave& cave, Instant at) {
  if (!PlantTells(body, cave, at)) return std::nullopt;
  return cave.temperature.warm.IsOpen() && PlantStandsStill(body, cave, at);
}

// A sign that is there or is not.
Sign SignOfPower(Why why, Counter& counter, std::optional<bool> there) {
  const auto value = there ? std::optional{*there ? 1.0 : 0.0} : std::nullopt;
  return {AlarmKind::kPlantWeak, why, counter, minutes{10}, value, 1.0, 0.5, {}, false};
}

// Water that evaporates cools the air as the plant does: while that is missing, and for the day that its falls are
// averaged over, slow falls say nothing of the plant.
bool CoolsWithoutWater(const Body& body, Cave& cave, Instant at) {
  constexpr Millis kOfItsFalls = hours{30};
  // Ice dries air as well, more in one house than another, and slows the falls before it does. So does a hot room, at
  // once, and for days: what lasts longer than that may be ice all the same. Both tuned on simulated houses.
  constexpr double kCoolsWell = 0.87;
  constexpr Millis kWaterMissed = hours{72};
  // Simulated, a coil that ices takes less; what is further off than eight is not learned.
  constexpr double kWaterGone = 6;
  const auto drier = OverChannels(body, cave.humidity_channels, at, BelowNormal);
  const bool lately = cave.far_drier && at - *cave.far_drier < kOfItsFalls;
  if (!drier || *drier < kWaterGone) return lately && cave.cooled_well_then;
  if (!lately) {
    cave.far_drier_since = at;
    const auto share = OverChannels(body, cave.temperature_channels, at, FallShare);
    cave.cooled_well_then = !share || *share >= kCoolsWell;
  }
  cave.far_drier = at;
  return cave.cooled_well_then && at - *cave.far_drier_since < kWaterMissed;
}

}  // namespace

void JudgeSlowSigns(Body& body, CaveId id, Cave& cave, Instant at, Decisions& out) {
  if (at.time_since_epoch() % kEvery != Millis{0}) return;
  const Settings& s = cave.settings;
  const bool dry = CoolsWithoutWater(body, cave, at);
  // A box has no plant of its own.
  if (cave.temperature_stake.band && !cave.ready_cheese && !FollowsAnother(body, id)) {
    const double least = s.fall_rate_share;
    const Millis sign_after = Minutes(s.plant_sign_after);
    FollowSign(body, id, cave,
               {AlarmKind::kPlantWeak, Why::kSlowFall, cave.slow_fall, sign_after,
                dry ? std::nullopt : OverChannels(body, cave.temperature_channels, at, FallShare), least,
                least + (1 - least) * kBackShare},
               at, out);
    FollowSign(body, id, cave,
               {AlarmKind::kPlantWeak, Why::kDayMeanUp, cave.day_up, sign_after,
                OverChannels(body, cave.temperature_channels, at, DayUp), s.day_mean_up, s.day_mean_up * kBackShare,
                OverChannels(body, cave.temperature_channels, at, WholeDayUp), true,
                OverChannels(body, cave.temperature_channels, at, LatelyUp)},
               at, out);
    FollowSign(body, id, cave, SignOfPower(Why::kRunsOn, cave.runs_on, RunsOn(body, cave, at)), at, out);
    FollowSign(body, id, cave, SignOfPower(Why::kStandsStill, cave.stands_still, StandsStill(body, cave, at)), at, out);
  } else if (Alarm* const standing = Standing(body, AlarmKind::kPlantWeak, id)) {
    End(body, *standing, at, out, Ending::kNotAsked);
  }
  if (cave.humidity_stake.band && !cave.inside) {
    FollowSign(body, id, cave,
               {AlarmKind::kTooDry, Why::kBelowNormal, cave.dry_normal, Minutes(s.dry_normal_after),
                OverChannels(body, cave.humidity_channels, at, BelowNormal), s.dry_below_normal,
                s.dry_below_normal * kBackShare,
                OverChannels(body, cave.humidity_channels, at,
                             [](const Habit& habit) { return habit.humidity.RecentMean(); })},
               at, out);
  }
}

}  // namespace rindwatch::rules::watch
