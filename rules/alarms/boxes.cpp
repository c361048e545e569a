#include "rules/alarms/boxes.hpp"

#include <algorithm>
#include <utility>

#include "rules/alarms/side.hpp"
#include "rules/alarms/stake.hpp"
#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {
namespace {

bool StandsInside(const Body& body, CaveId box, CaveId cave) {
  return box != cave && std::ranges::count(Outwards(body, box), cave) > 0;
}

}  // namespace

Alarm* RingsAround(Body& body, CaveId id, AlarmKind kind) {
  Alarm* loudest = nullptr;
  for (Alarm& alarm : body.alarms) {
    if (alarm.kind != kind || alarm.over || !StandsInside(body, id, alarm.cave)) continue;
    if (!loudest || alarm.severity > loudest->severity) loudest = &alarm;
  }
  return loudest;
}

void CountAnewInside(Body& body, CaveId id, AlarmKind kind) {
  for (auto& [box, cave] : body.caves) {
    if (!StandsInside(body, box, id) || Standing(body, kind, box)) continue;
    Side& side = kind == AlarmKind::kTooWarm ? cave.temperature.high : cave.temperature.low;
    CountAnew(side);
    side.trails = side.out;
  }
}

bool AboutToRingAround(const Body& body, CaveId id, AlarmKind kind, const Side& side, Instant at) {
  return std::ranges::any_of(Outwards(body, id), [&](CaveId around) {
    const auto found = body.caves.find(around);
    if (around == id || found == body.caves.end()) return false;
    const AirWatch& air = found->second.temperature;
    const Side& outer = kind == AlarmKind::kTooWarm ? air.high : air.low;
    return air.judged == at && outer.edge.beyond > Millis{0} && outer.since <= side.since + kSameEvent;
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
