#include "rules/alarms/channels.hpp"

#include "rules/alarms/body.hpp"

namespace rindwatch::rules {

std::optional<ChannelSaid> LastSaid(const EngineState& state, ChannelId id, Instant at) {
  const watch::Channel* channel = state.body().FindChannel(id);
  if (!channel || !channel->cave || !channel->heard) return std::nullopt;
  return ChannelSaid{channel->measured, static_cast<double>(channel->latest) / 1000.0, channel->Speaks(at)};
}

std::optional<Millis> ChannelAwaitedFor(const EngineState& state, ChannelId id) {
  const watch::Channel* channel = state.body().FindChannel(id);
  if (!channel || !channel->cave) return std::nullopt;
  return channel->MissedAfter();
}

std::optional<Millis> AirAwaitedFor(const EngineState& state, CaveId id) {
  const auto cave = state.body().caves.find(id);
  std::optional<Millis> longest;
  if (cave == state.body().caves.end()) return longest;
  for (const ChannelId channel : cave->second.temperature_channels)
    longest = std::max(longest.value_or(Millis{0}), state.body().FindChannel(channel)->MissedAfter());
  return longest;
}

}  // namespace rindwatch::rules
