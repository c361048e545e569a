#include "rules/alarms/ahead.hpp"

#include <algorithm>
#include <iterator>

#include "rules/alarms/body.hpp"
#include "rules/alarms/first.hpp"
#include "rules/alarms/freezing.hpp"
#include "rules/alarms/hearing.hpp"
#include "rules/alarms/plan_step.hpp"
#include "rules/alarms/presence.hpp"
#include "rules/alarms/stake.hpp"

namespace rindwatch::rules {

std::vector<AirSpan> AirAhead(const EngineState& state, CaveId id, Instant at) {
  const EngineState::Body& body = state.body();
  const auto found = body.caves.find(id);
  if (found == body.caves.end()) return {};
  const watch::Cave& cave = found->second;
  std::optional<Instant> since;
  if (cave.temperature.warm.IsOpen()) since = cave.temperature.warm.Now().since;
  for (const Alarm& alarm : body.alarms) {
    const bool warm = alarm.kind == AlarmKind::kTooWarm && alarm.cave == id && !alarm.over;
    if (warm) since = std::min(since.value_or(alarm.since), alarm.since);
  }
  return since ? HowFar(watch::RisingAir(body, cave.temperature_channels, *since, at)) : std::vector<AirSpan>{};
}

std::vector<Matter> MattersWithin(const EngineState& state, const Alarm& alarm, Instant at) {
  std::vector<Matter> matters;
  const bool unheard = alarm.kind == AlarmKind::kPowerGone;
  if ((alarm.kind != AlarmKind::kTooWarm && !unheard) || alarm.over) return matters;
  const EngineState::Body& body = state.body();
  if (!unheard) return watch::MattersInside(body, alarm.cave, alarm.since, at);
  for (const auto& [id, cave] : body.caves) {
    if (cave.temperature_channels.empty() || std::ranges::count(watch::Outwards(body, id), alarm.cave) == 0) continue;
    std::ranges::move(watch::MattersUnheard(body, cave, at), std::back_inserter(matters));
  }
  return matters;
}

std::optional<CoreSpan> CoresUnheard(const EngineState& state, const Alarm& alarm, Instant at) {
  if (alarm.kind != AlarmKind::kPowerGone || alarm.over) return std::nullopt;
  const EngineState::Body& body = state.body();
  std::optional<CoreSpan> warmest;
  for (const auto& [id, cave] : body.caves) {
    if (cave.temperature_channels.empty() || std::ranges::count(watch::Outwards(body, id), alarm.cave) == 0) continue;
    const auto one = watch::WarmestUnheard(body, cave, at);
    if (one && (!warmest || one->high > warmest->high)) warmest = one;
  }
  return warmest;
}

namespace {

struct Trough {
  std::size_t minute;
  double swing;  // of the fall that ended in it
};

// A fall counts once the air has risen again by as much as a leg of the plant's saw.
std::vector<Trough> TroughsOf(const std::vector<std::int32_t>& minutes) {
  std::vector<Trough> troughs;
  std::optional<double> top;
  double low = 0;
  std::size_t low_at = 0;
  for (std::size_t i = 0; i < minutes.size(); ++i) {
    if (minutes[i] == watch::Window::kEmpty) continue;
    const double value = minutes[i] / 1e6;
    if (!top) top = low = value;
    if (value < low) {
      low = value;
      low_at = i;
    } else if (*top - low < watch::FallingLegs::kTurns) {
      if (value > *top) top = low = value;
    } else if (value - low >= watch::FallingLegs::kTurns) {
      troughs.push_back({low_at, *top - low});
      top = low = value;
    }
  }
  return troughs;
}

}  // namespace

std::optional<PlantCycle> PlantCycleOf(const EngineState& state, CaveId id, Instant at) {
  const EngineState::Body& body = state.body();
  const auto found = body.caves.find(id);
  if (found == body.caves.end()) return std::nullopt;
  for (const ChannelId channel_id : found->second.temperature_channels) {
    const watch::Channel& channel = *body.FindChannel(channel_id);
    if (!channel.Speaks(at) || channel.doubt.Any()) continue;
    const std::vector<std::int32_t> closed = channel.window.Closed();
    const std::vector<Trough> troughs = TroughsOf(closed);
    if (troughs.size() < 3) return std::nullopt;
    double swings = 0;
    for (const Trough& trough : troughs) swings += trough.swing;
    const auto span = static_cast<std::int64_t>(troughs.back().minute - troughs.front().minute);
    const auto count = static_cast<std::int64_t>(troughs.size());
    return PlantCycle{Millis{std::chrono::minutes{1}} * span / (count - 1), swings / static_cast<double>(count),
                      at - std::chrono::minutes{closed.size() - troughs.front().minute}};
  }
  return std::nullopt;
}

namespace {

// Over the probes of a cave; `of_now`: over those that speak and are believed.
template <typename Measure>
std::optional<double> OverProbes(const EngineState& state, CaveId id, Instant at, bool of_now, Measure measure) {
  const EngineState::Body& body = state.body();
  const auto found = body.caves.find(id);
  if (found == body.caves.end()) return std::nullopt;
  double sum = 0;
  int count = 0;
  for (const ChannelId channel_id : found->second.temperature_channels) {
    const watch::Channel& channel = *body.FindChannel(channel_id);
    const std::optional<double> mean = measure(channel.habit);
    const bool known = !of_now || (channel.Speaks(at) && !channel.doubt.Any());
    if (!mean || !known) continue;
    sum += *mean;
    ++count;
  }
  return count > 0 ? std::optional(sum / count) : std::nullopt;
}

}  // namespace

std::optional<double> DayMeanOf(const EngineState& state, CaveId id, Instant at) {
  return OverProbes(state, id, at, true, [](const watch::Habit& habit) { return habit.whole_day.RecentMean(); });
}

std::optional<double> DaysBeforeOf(const EngineState& state, CaveId id, Instant at) {
  return OverProbes(state, id, at, false, [](const watch::Habit& habit) { return habit.day_mean.NormalMean(); });
}

std::optional<FreezesIn> FreezesWithin(const EngineState& state, CaveId id, Instant at) {
  constexpr double kFalls = 1.0 / 60;  // K a minute
  const EngineState::Body& body = state.body();
  const auto found = body.caves.find(id);
  if (found == body.caves.end() || found->second.ready_cheese) return std::nullopt;
  const watch::AirMean air = watch::MeanOf(body, found->second.temperature_channels, at);
  const auto fall = watch::FallOf(air);
  const auto left = watch::FreezesAfter(air, watch::kFreezing);
  if (!fall || *fall < kFalls || !left || *left == Millis{0}) return std::nullopt;
  const double quickest = std::max(*fall, (*air.mean - *air.recent) / (air.window_minutes / 3.0));
  const auto soonest = static_cast<Millis::rep>(static_cast<double>(left->count()) * *fall / quickest);
  return FreezesIn{Millis{soonest}, 2 * *left};
}

bool ComesBack(const EngineState& state, const Alarm& alarm, Instant at) {
  constexpr Millis kSoon = std::chrono::hours{1};
  const EngineState::Body& body = state.body();
  const auto found = body.caves.find(alarm.cave);
  if (found == body.caves.end() || !alarm.band || !IsOfWarmth(alarm.kind)) return true;
  const bool warm = alarm.kind == AlarmKind::kTooWarm;
  const watch::AirMean air = watch::MeanOf(body, found->second.temperature_channels, at);
  return watch::IsBackWithin(air, warm ? alarm.band->high : alarm.band->low, warm ? 1 : -1, kSoon);
}

std::optional<Figure> WarmthJudgedBy(const EngineState& state, CaveId id) {
  const EngineState::Body& body = state.body();
  const auto found = body.caves.find(id);
  if (found == body.caves.end() || !found->second.temperature_stake.band) return std::nullopt;
  return watch::JudgedBy(*found->second.temperature_stake.band, found->second.temperature.before, 1);
}

std::optional<Instant> HereUntil(const EngineState& state, CaveId id, Instant at) {
  const EngineState::Body& body = state.body();
  if (!body.caves.contains(id)) return std::nullopt;
  std::optional<Instant> until;
  for (const CaveId near : watch::TogetherWith(body, id)) {
    const auto& here = body.caves.at(near).here_until;
    if (here && at < *here) until = std::max(until.value_or(*here), *here);
  }
  return until;
}

}  // namespace rindwatch::rules
