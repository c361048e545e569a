#include "rules/alarms/hearing.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "rules/alarms/air.hpp"
#include "rules/alarms/one_event.hpp"
#include "rules/alarms/plan_step.hpp"
#include "rules/alarms/stake.hpp"
#include "rules/alarms/thresholds.hpp"
#include "rules/wheels/forecast.hpp"

namespace rindwatch::rules::watch {
namespace {

using std::chrono::seconds;

// A probe slower than this shows no legs of the plant's saw.
constexpr Millis kSlowestForLegs = minutes{10};
constexpr std::int64_t kLongestHoleInLeg = 15;  // minutes
// Estimates begin anew after a hole that no straight line should cross.
constexpr std::int64_t kLongestLine = std::int64_t{3} * 24 * 60;  // minutes
// Times the slowest lag: until then an estimate still knows how it was begun.
constexpr double kSettlesAfter = 2;
// The forecast leaves out the first minutes of an excursion: a door's rush of air shows no trend.
constexpr Millis kLeftOut = minutes{15};

const ClassLags& Lags(const Body& body, const WheelClass& kind) { return *body.lags.at(kind); }

Instant EndOf(std::int64_t minute) { return Instant{minutes{minute + 1}}; }

void FollowAir(const Body& body, Channel& channel, std::int64_t minute, double mean) {
  const std::int64_t passed = channel.fed ? minute - *channel.fed : 0;
  for (Estimate& estimate : channel.estimates) {
    const ClassLags& lags = Lags(body, estimate.kind);
    if (!channel.fed || passed > kLongestLine) {
      estimate = {estimate.kind, WheelFollows::AtRest(mean), EndOf(minute)};
    } else if (passed == 1) {
      lags.minute.Follow(estimate.follows, channel.fed_with, mean);
    } else {
      estimate.follows.Follow(lags.lags, channel.fed_with, mean, static_cast<double>(passed) * 60);
    }
  }
  channel.fed = minute;
  channel.fed_with = mean;
}

// A door takes the humidity far down for an hour, and twelve of its mean with it; a wick that is dry does so little by
// little. So no minute counts for more than this.
constexpr double kMostOffNormal = 8;  // points
constexpr std::size_t kDaysOfNormal = 4;

void LearnDamp(Channel& channel, std::int64_t minute, double now) {
  Habit& habit = channel.habit;
  const std::int64_t hour = minute / 60;
  // Of the hour: a plant's saw is wider than that.
  const double mean = channel.window.Mean().value_or(now);
  habit.humidity.RollTo(hour);
  const auto normal = habit.humidity.NormalDays() >= kDaysOfNormal ? habit.humidity.NormalMean() : std::nullopt;
  habit.humidity.Add(hour, normal ? std::clamp(mean, *normal - kMostOffNormal, *normal + kMostOffNormal) : mean);
}

// `ill`: what is learned of a day would be of the failure.
void LearnWarmth(Channel& channel, std::int64_t minute, double mean, std::int64_t hole, bool ill) {
  Habit& habit = channel.habit;
  if (!ill) habit.day_mean.Add(minute / 60, mean);
  habit.whole_day.Add(minute / 60, mean);
  if (const auto recent = channel.window.Recent()) habit.spread.Add(minute / 1440, *recent);
  if (channel.cadence.Interval() > kSlowestForLegs || hole > kLongestHoleInLeg) habit.legs.Forget();
  const auto rate = habit.legs.Add(minute, mean);
  // Hours pass without a fall too: those of a day ago say nothing of now.
  habit.fall_rate.RollTo(minute / 60);
  if (rate && !ill) habit.fall_rate.Add(minute / 60, *rate);
}

// A plant that still cycles shows rising legs that lead nowhere: nothing is foreseen until the air has risen for this
// long without a fall.
constexpr std::int64_t kSteadyRise = 40;

double BelowAir(const Body& body, const Cave& cave, const ClassLags& lags, Instant at) {
  if (cave.humidity_channels.empty()) return 0;
  if (cave.humidity_now) return lags.rind.BelowAir({*cave.humidity_now}).value;
  const AirMean humidity = MeanOf(body, cave.humidity_channels, at);
  return humidity.mean ? lags.rind.BelowAir({*humidity.mean}).value : 0;
}

const Estimate* EstimateIn(const Channel& channel, const WheelClass& kind) {
  const auto found = std::ranges::find(channel.estimates, kind, &Estimate::kind);
  return found == channel.estimates.end() ? nullptr : &*found;
}

// A probe that speaks seldom: since its last closed minute along a line to its newest word, and from there as that one.
constexpr Millis kSeldom = minutes{5};

WheelFollows FollowsNow(const Channel& channel, const Estimate& estimate, const ClassLags& lags, Instant at) {
  WheelFollows follows = estimate.follows;
  const Instant fed = EndOf(*channel.fed);
  if (at - fed < kSeldom) return follows;
  const Instant heard = std::clamp(*channel.heard, fed, at);
  const auto count = [](Millis span) { return std::chrono::duration<double>(span).count(); };
  follows.Follow(lags.lags, channel.fed_with, channel.Latest(), count(heard - fed));
  follows.Follow(lags.lags, channel.Latest(), channel.Latest(), count(at - heard));
  return follows;
}

std::vector<WheelClass> ClassesOf(const Stake& stake) {
  std::vector<WheelClass> classes;
  for (const Stake::ClassAsking& asking : stake.classes) {
    if (std::ranges::count(classes, asking.kind) == 0) classes.push_back(asking.kind);
  }
  return classes;
}

// One that is new begins at rest with the air of now; its history is known from here.
Estimate Begun(const Channel& channel, const WheelClass& kind, Instant at) {
  return {kind, WheelFollows::AtRest(channel.window.Mean().value_or(channel.Latest())), at};
}

}  // namespace

void RollChannel(Body& body, Channel& channel, std::int64_t minute) {
  const std::int64_t open = channel.window.OpenMinute();
  const bool heard = channel.window.OpenCount() > 0 && open < minute;
  const double mean =
      heard ? static_cast<double>(channel.window.OpenSum()) / static_cast<double>(channel.window.OpenCount()) / 1000.0
            : 0;
  channel.window.RollTo(minute);
  if (!heard || channel.doubt.Any()) return;
  if (!channel.habit.since) channel.habit.since = EndOf(open);
  if (channel.kind == ChannelKind::kHumidity) return LearnDamp(channel, open, mean);
  if (channel.kind != ChannelKind::kTemperature) return;
  const bool ill = channel.cave && IsIll(body, *channel.cave);
  LearnWarmth(channel, open, mean, channel.fed ? open - *channel.fed : 0, ill);
  FollowAir(body, channel, open, mean);
}

void ListEstimates(Body& body) {
  for (auto& [id, cave] : body.caves) {
    const std::vector<WheelClass> classes = ClassesOf(cave.temperature_stake);
    for (const WheelClass& kind : classes) {
      if (!body.lags.contains(kind)) body.lags[kind] = LagsOf(kind);
    }
    for (const ChannelId channel_id : cave.temperature_channels) {
      Channel& channel = *body.FindChannel(channel_id);
      std::erase_if(channel.estimates, [&](const Estimate& e) { return std::ranges::count(classes, e.kind) == 0; });
      for (const WheelClass& kind : classes) {
        if (!EstimateIn(channel, kind)) channel.estimates.push_back(Begun(channel, kind, body.now));
      }
      std::ranges::sort(channel.estimates, {}, &Estimate::kind);
    }
  }
}

std::optional<WheelNow> WheelNowOf(const Body& body, const Cave& cave, const WheelClass& kind, Instant at) {
  return WheelNowOf(body, cave, cave.temperature_channels, kind, at);
}

std::optional<WheelNow> WheelNowOf(const Body& body, const Cave& cave, const std::vector<ChannelId>& channels,
                                   const WheelClass& kind, Instant at) {
  WheelNow now;
  double count = 0;
  for (const ChannelId id : channels) {
    const Channel& channel = *body.FindChannel(id);
    const Estimate* const estimate = EstimateIn(channel, kind);
    if (!estimate || !channel.fed || !channel.Speaks(at) || channel.doubt.Any()) continue;
    now.lags = &Lags(body, kind);
    const auto settles = Millis{static_cast<Millis::rep>(kSettlesAfter * now.lags->lags.Slowest() * 1000)};
    now.settled |= at - estimate->since >= settles;
    const WheelFollows follows = FollowsNow(channel, *estimate, *now.lags, at);
    for (std::size_t i = 0; i < WheelLags::kCount; ++i) now.follows.at[i] += follows.at[i];
    ++count;
  }
  if (count == 0) return std::nullopt;
  for (double& value : now.follows.at) value /= count;
  now.below = kind.boxed ? 0 : BelowAir(body, cave, *now.lags, at);
  return now;
}

std::optional<double> WarmestOf(const Body& body, const Cave& cave, const WheelClass& kind, double air, Instant at) {
  std::optional<double> warmest;
  for (const ChannelId id : cave.temperature_channels) {
    const Channel& channel = *body.FindChannel(id);
    const Estimate* const estimate = EstimateIn(channel, kind);
    if (!estimate || !channel.fed) continue;
    WheelFollows follows = estimate->follows;
    const ClassLags& lags = Lags(body, kind);
    follows.Follow(lags.lags, air, air, std::chrono::duration<double>(at - EndOf(*channel.fed)).count());
    const double core = lags.lags.Core(follows.at);
    warmest = std::max(warmest.value_or(core), core);
  }
  return warmest;
}

std::vector<double> RisingAir(const Body& body, const std::vector<ChannelId>& channels, Instant from, Instant at) {
  for (const ChannelId id : channels) {
    const Channel& channel = *body.FindChannel(id);
    if (!channel.Speaks(at) || channel.doubt.Any()) continue;
    const auto rises = channel.habit.legs.RisesSince();
    if (!rises || !channel.fed || *channel.fed - *rises < kSteadyRise) continue;
    const std::vector<std::int32_t> closed = channel.window.Closed();
    const auto wanted = static_cast<std::size_t>(std::max<std::int64_t>(0, (at - from) / minutes{1}));
    std::vector<double> air;
    for (std::size_t i = closed.size() - std::min({closed.size(), wanted, kMostAir}); i < closed.size(); ++i) {
      // A minute without a reading is as the one before it.
      if (closed[i] != Window::kEmpty) {
        air.push_back(closed[i] / 1e6);
      } else if (!air.empty()) {
        air.push_back(air.back());
      }
    }
    return air;
  }
  return {};
}

namespace {

// Of times that are counted from `passed` ago.
Matter MatterOf(const Outlook& outlook, const std::vector<WheelId>& wheels, Millis passed = {}) {
  const auto span = [passed](double count) {
    const auto whole = std::chrono::round<minutes>(std::chrono::duration<double>(count) - passed);
    return std::max(whole, minutes{0});
  };
  Matter matter{span(outlook.soonest), {}, wheels};
  if (outlook.latest) matter.latest = span(*outlook.latest);
  return matter;
}

// Wheels that want it cooler than the cave is kept are beyond their limit all their days: that is told beside the cave,
// and is no part of an event.
double LimitOf(const Cave& cave, const Stake::ClassAsking& asking) {
  return std::max(asking.band->high, ForgivenWarmth(cave).high);
}

}  // namespace

std::optional<CoreSpan> WarmestUnheard(const Body& body, const Cave& cave, Instant at) {
  std::optional<CoreSpan> warmest;
  for (const Stake::ClassAsking& asking : cave.temperature_stake.classes) {
    for (const ChannelId id : cave.temperature_channels) {
      const Channel& channel = *body.FindChannel(id);
      const Estimate* const estimate = EstimateIn(channel, asking.kind);
      if (!estimate || !channel.fed || channel.doubt.Any()) continue;
      const double seconds = std::chrono::duration<double>(at - EndOf(*channel.fed)).count();
      const auto core = CoreUnheard(channel.Latest(), Lags(body, asking.kind).lags, estimate->follows, seconds);
      if (core && (!warmest || core->high > warmest->high)) warmest = core;
      break;
    }
  }
  return warmest;
}

std::vector<Matter> MattersUnheard(const Body& body, const Cave& cave, Instant at) {
  std::vector<Matter> matters;
  for (const Stake::ClassAsking& asking : cave.temperature_stake.classes) {
    for (const ChannelId id : cave.temperature_channels) {
      const Channel& channel = *body.FindChannel(id);
      const Estimate* const estimate = EstimateIn(channel, asking.kind);
      if (!asking.band || !estimate || !channel.fed || channel.doubt.Any()) continue;
      const WheelLags& lags = Lags(body, asking.kind).lags;
      const auto outlook = HowLongUnheard(channel.Latest(), lags, estimate->follows, LimitOf(cave, asking));
      if (outlook) matters.push_back(MatterOf(*outlook, asking.wheels, at - EndOf(*channel.fed)));
      break;
    }
  }
  std::ranges::stable_sort(matters, {}, &Matter::soonest);
  return matters;
}

// Air beyond the band that neither rises nor falls, as behind a door that stands open: its mean.
std::optional<double> WarmAirAtRest(const Body& body, const Cave& cave, const std::vector<ChannelId>& channels,
                                    Instant at) {
  constexpr double kStill = 0.3;  // K, between the last minutes and the whole window
  const AirMean air = MeanOf(body, channels, at);
  if (!air.settled || !air.mean || !air.recent || *air.mean <= ForgivenWarmth(cave).high) return std::nullopt;
  return std::abs(*air.recent - *air.mean) <= kStill ? air.mean : std::nullopt;
}

namespace {

// Air that shows no fall may still have come to its end: every course that is still on its way up lies above it, and
// what such a course foretells moves off from hour to hour.
bool HasComeToRest(const std::vector<double>& air) {
  constexpr std::size_t kLeast = 45;  // minutes
  constexpr double kUp = 0.1;         // K, from the first third to the last
  if (air.size() < kLeast) return false;
  const auto third = static_cast<std::ptrdiff_t>(air.size() / 3);
  const auto mean = [third](auto from) {
    return std::accumulate(from, from + third, 0.0) / static_cast<double>(third);
  };
  return mean(air.end() - third) - mean(air.begin()) < kUp;
}

}  // namespace

std::vector<Matter> MattersOf(const Body& body, const Cave& cave, Instant excursion_since, Instant at) {
  return MattersOf(body, cave, cave.temperature_channels, excursion_since, at);
}

std::vector<Matter> MattersInside(const Body& body, CaveId around, Instant excursion_since, Instant at) {
  std::vector<Matter> matters;
  for (const auto& [id, cave] : body.caves) {
    if (id == around || cave.temperature_channels.empty()) continue;
    if (std::ranges::count(Outwards(body, id), around) == 0) continue;
    std::ranges::move(MattersOf(body, cave, excursion_since, at), std::back_inserter(matters));
  }
  return matters;
}

std::vector<Matter> MattersOf(const Body& body, const Cave& cave, const std::vector<ChannelId>& channels,
                              Instant excursion_since, Instant at) {
  std::vector<Matter> matters;
  const std::vector<double> air = RisingAir(body, channels, excursion_since + kLeftOut, at);
  const bool rises = !HowFar(air).empty();
  const std::optional<double> rests =
      rises && !HasComeToRest(air) ? std::nullopt : WarmAirAtRest(body, cave, channels, at);
  for (const Stake::ClassAsking& asking : cave.temperature_stake.classes) {
    if (!asking.band) continue;
    const auto now = WheelNowOf(body, cave, channels, asking.kind, at);
    if (!now || !now->settled) continue;
    const double limit = LimitOf(cave, asking);
    const WheelLags& lags = now->lags->lags;
    const auto outlook = rests ? HowLongAtRest(*rests, lags, now->follows, now->below, limit)
                               : HowLong(air, lags, now->follows, now->below, limit);
    if (!outlook) {
      if (rises || rests) matters.push_back({Matter::kNotWithin, {}, asking.wheels});
      continue;
    }
    matters.push_back(MatterOf(*outlook, asking.wheels));
  }
  std::ranges::stable_sort(matters, {}, &Matter::soonest);
  return matters;
}

}  // namespace rindwatch::rules::watch
