// What the page shows of a cave.
#include <algorithm>

#include "rules/alarms/ahead.hpp"
#include "rules/alarms/air.hpp"
#include "rules/alarms/body.hpp"
#include "rules/alarms/hearing.hpp"
#include "rules/alarms/presence.hpp"
#include "rules/alarms/stake.hpp"

namespace rindwatch::rules {
namespace {

using watch::AirMean;
using watch::Cave;
using Body = EngineState::Body;

// The nearest cave outwards, this one first, in which a probe measures the temperature.
const Cave* LenderOf(const Body& body, CaveId id) {
  for (const CaveId around : watch::Outwards(body, id)) {
    const auto found = body.caves.find(around);
    if (found != body.caves.end() && !found->second.temperature_channels.empty()) return &found->second;
  }
  return nullptr;
}

// What lies on both sides of an edge is not known.
void Contradict(ChannelView& view, const std::vector<ProbeSaid>& said) {
  if (said.size() < 2) return;
  const auto [low, high] = std::ranges::minmax(said, {}, &ProbeSaid::value);
  view.contradicted = true;
  view.lowest = low.value;
  view.highest = high.value;
}

bool IsAtOdds(const ChannelView& view) {
  if (!view.contradicted) return false;
  const auto side = [&](double value) { return value > view.band->high ? 1 : value < view.band->low ? -1 : 0; };
  return side(*view.lowest) != side(*view.highest);
}

ChannelView ViewOf(const Body& body, const Cave& cave, const Cave* source, ChannelKind kind, Instant at) {
  ChannelView view;
  view.kind = kind;
  view.band = cave.StakeOf(kind).band;
  view.target = cave.StakeOf(kind).target;
  if (!source || source->Channels(kind).empty()) return view;
  view.watched = true;
  view.borrowed = source != &cave;
  const AirMean air = watch::MeanOf(body, source->Channels(kind), at);
  view.latest = air.latest;
  view.latest_at = air.latest_at;
  view.mean = air.mean;
  view.doubted = !air.mean && air.doubted;
  view.silent = !air.mean && !air.doubted;
  view.settling = air.mean && !air.settled;
  view.trend = watch::TrendOf(kind, air);
  if (!air.mean) {
    view.state = CaveState::kUnknown;
    return view;
  }
  if (source->Air(kind).Contradicted(source->settings))
    Contradict(view, watch::SaidBy(body, source->Channels(kind), at));
  if (!view.band) return view;  // measured, but nothing is asked of it
  const watch::AirWatch* const own = view.borrowed ? nullptr : &cave.Air(kind);
  // An alarm that stands changes nothing: that air which is back has to stay back is its matter, and told with it.
  const watch::AirState now = watch::StateOf(kind, air, *view.band, own);
  const bool odd = IsAtOdds(view);
  view.state = odd ? CaveState::kUnknown : now.state;
  view.side = odd ? 0 : now.side;
  return view;
}

std::optional<Instant> LeavesAtOf(const Cave& cave, const Cave* source, const Body& body, ChannelKind kind,
                                  Instant at) {
  const auto& band = cave.StakeOf(kind).band;
  if (!source || !band) return std::nullopt;
  const AirMean air = watch::MeanOf(body, source->Channels(kind), at);
  if (!air.mean) return std::nullopt;
  const auto after = watch::StateOf(kind, air, *band, source == &cave ? &cave.Air(kind) : nullptr).leaves_after;
  return after ? std::optional(at + *after) : std::nullopt;
}

// Air that falls after it was too warm is on its way back, and not about to be too cold; and the other way round. One
// event has one word, also in a box inside.
bool IsOnItsWayBack(const Body& body, CaveId id, const ChannelView& view) {
  if (view.state != CaveState::kDrifting || view.kind != ChannelKind::kTemperature) return false;
  const AlarmKind before = view.side < 0 ? AlarmKind::kTooWarm : AlarmKind::kTooCold;
  return std::ranges::any_of(watch::Outwards(body, id), [&](CaveId around) {
    return std::ranges::any_of(
        body.alarms, [&](const Alarm& alarm) { return alarm.cave == around && alarm.kind == before && !alarm.over; });
  });
}

// Those that lie in the cave itself, by the probes of the one that says what its air is.
std::vector<WheelsView> WheelsOf(const Body& body, const Cave* source, const Cave& cave, CaveId id, Instant at) {
  std::vector<WheelsView> views;
  if (!source) return views;
  for (const watch::Stake::ClassAsking& asking : source->temperature_stake.classes) {
    WheelsView view;
    for (const WheelId wheel : asking.wheels) {
      if (source == &cave ? true : body.wheels.at(wheel).cave == id) view.wheels.push_back(wheel);
    }
    const auto now = watch::WheelNowOf(body, *source, asking.kind, at);
    if (view.wheels.empty() || !now) continue;
    view.core = now->Core();
    view.rind = now->Rind() - now->below;
    view.settling = !now->settled;
    views.push_back(std::move(view));
  }
  return views;
}

std::vector<WheelId> Merged(const std::vector<WheelId>& a, const std::vector<WheelId>& b) {
  std::vector<WheelId> merged;
  std::ranges::set_union(a, b, std::back_inserter(merged));
  return merged;
}

}  // namespace

std::optional<Instant> LeavesAt(const EngineState& state, CaveId id, ChannelKind kind, Instant at) {
  const Body& body = state.body();
  const auto found = body.caves.find(id);
  if (found == body.caves.end()) return std::nullopt;
  const Cave& cave = found->second;
  return LeavesAtOf(cave, kind == ChannelKind::kTemperature ? LenderOf(body, id) : &cave, body, kind, at);
}

CaveView EngineState::View(CaveId id, Instant at) const {
  CaveView view;
  view.cave = id;
  view.temperature.kind = ChannelKind::kTemperature;
  view.humidity.kind = ChannelKind::kHumidity;
  const auto found = body_->caves.find(id);
  if (found == body_->caves.end()) return view;
  const Cave& cave = found->second;
  view.temperature = ViewOf(*body_, cave, LenderOf(*body_, id), ChannelKind::kTemperature, at);
  if (IsOnItsWayBack(*body_, id, view.temperature)) {
    view.temperature.state = CaveState::kInBand;
    view.temperature.side = 0;
  }
  view.humidity = ViewOf(*body_, cave, &cave, ChannelKind::kHumidity, at);
  view.state = std::max(view.temperature.state, view.humidity.state,
                        [](CaveState a, CaveState b) { return WeightOf(a) < WeightOf(b); });
  view.wheels = WheelsOf(*body_, LenderOf(*body_, id), cave, id, at);
  view.shapes = cave.shapes;
  view.quiet_until = watch::QuietUntil(*body_, id, at);
  view.does_not_suit = Merged(cave.temperature_stake.unsuited, cave.humidity_stake.unsuited);
  return view;
}

}  // namespace rindwatch::rules
