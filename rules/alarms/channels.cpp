#include "rules/alarms/channels.hpp"

#include "rules/alarms/body.hpp"

namespace rindwatch::rules {

std::optional<ChannelSaid> LastSaid(const EngineState& state, ChannelId id, Instant at) {
  const watch::Channel* channel = state.body().FindChannel(id);
  if (!channel || !channel->cave || !channel->heard) return std::nullopt;
  return ChannelSaid{channel->measured, static_cast<double>(channel->latest) / 1000.0, channel->Speaks(at)};
}

}  // namespace rindwatch::rules
