#include "rules/alarms/boxes.hpp"

#include <algorithm>
#include <utility>

#include "rules/alarms/air.hpp"
#include "rules/alarms/side.hpp"
#include "rules/alarms/stake.hpp"
#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {
namespace {

bool StandsInside(const Body& body, CaveId box, CaveId cave) {
  return box != cave && std::ranges::count(Outwards(body, box), cave) > 0;
}

template <typename CaveOf>  // const or not
auto& SideOf(CaveOf& cave, AlarmKind kind) {
  return kind == AlarmKind::kTooWarm ? cave.temperature.high : cave.temperature.low;
}

bool IsOnItsWayBack(const Body& body, const Cave& cave, AlarmKind kind, Instant at) {
  const AirMean air = MeanOf(body, cave.temperature_channels, at);
  if (!air.mean || !air.recent) return false;
  return (kind == AlarmKind::kTooWarm ? 1 : -1) * (*air.mean - *air.recent) >= kOnItsWayBack;
}

}  // namespace

Alarm* RingsAround(Body& body, CaveId id, AlarmKind kind) {
  Alarm* loudest = nullptr;
  for (Alarm& alarm : body.alarms) {
    if (alarm.kind != kind || alarm.why == Why::kPlanStep || alarm.over || !StandsInside(body, id, alarm.cave))
      continue;
    if (!loudest || alarm.severity > loudest->severity) loudest = &alarm;
  }
  return loudest;
}

void CountAnewInside(Body& body, CaveId id, AlarmKind kind) {
  for (auto& [box, cave] : body.caves) {
    if (!StandsInside(body, box, id) || Standing(body, kind, box)) continue;
    Side& side = SideOf(cave, kind);
    CountAnew(side);
    side.trails = side.out;
  }
}

bool IsFollowedInside(Body& body, CaveId id, AlarmKind kind, Millis back, Instant at) {
  return std::ranges::any_of(body.caves, [&](const auto& entry) {
    const auto& [box, cave] = entry;
    if (!StandsInside(body, box, id)) return false;
    const Side& side = SideOf(cave, kind);
    if (const Alarm* const own = Standing(body, kind, box)) {
      return own->Folded() && side.out && back < kFollowsFor && IsOnItsWayBack(body, cave, kind, at);
    }
    const Settings& s = cave.settings;
    const double patience = kind == AlarmKind::kTooWarm ? s.warm_watch_after : s.cold_watch_after;
    const bool heard = at - cave.temperature.judged <= kPause;
    return side.trails && heard && back < kFollowsFor && side.edge.beyond < Minutes(patience);
  });
}

bool AboutToRingAround(const Body& body, CaveId id, AlarmKind kind, const Side& side, Instant at) {
  return std::ranges::any_of(Outwards(body, id), [&](CaveId around) {
    const auto found = body.caves.find(around);
    if (around == id || found == body.caves.end()) return false;
    const Side& outer = SideOf(found->second, kind);
    return found->second.temperature.judged == at && outer.edge.beyond > Millis{0} &&
           outer.since <= side.since + kSameEvent;
  });
}

std::vector<CaveId> OutermostFirst(const Body& body) {
  std::vector<std::pair<std::size_t, CaveId>> by_depth;
  by_depth.reserve(body.caves.size());
  for (const auto& [id, cave] : body.caves) by_depth.emplace_back(Outwards(body, id).size(), id);
  std::ranges::sort(by_depth);
  std::vector<CaveId> order;
  order.reserve(by_depth.size());
  for (const auto& [depth, id] : by_depth) order.push_back(id);
  return order;
}

}  // namespace rindwatch::rules::watch
