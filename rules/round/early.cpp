#include "rules/round/early.hpp"

#include <algorithm>
#include <functional>
#include <map>
#include <tuple>

namespace rindwatch::rules {

namespace {

// Wheels of one board that may be done alike are one line, whatever their lots.
using Key = std::tuple<int, int, CaveId, int, std::string, Date, std::vector<CareKind>>;

Key KeyOf(const RoundGroup& group, const CareLine& care) {
  const RoundPlace& place = group.place;
  return {static_cast<int>(group.schedule->standing.plan->rind),
          place.cave_order,
          place.cave,
          place.shelf_order,
          place.shelf,
          care.due,
          care.kinds};
}

template <typename T>
void AddOnce(std::vector<T>& to, const T& value) {
  if (std::ranges::find(to, value) == to.end()) to.push_back(value);
}

std::vector<EarlyLine> Gather(const std::vector<const RoundGroup*>& groups,
                              const std::function<bool(const CareLine&)>& wanted) {
  std::map<Key, EarlyLine> lines;
  for (const RoundGroup* group : groups) {
    for (const CareLine& care : group->schedule->lines) {
      if (!wanted(care)) continue;
      EarlyLine& line = lines[KeyOf(*group, care)];
      line.due = care.due;
      line.kinds = care.kinds;
      line.place = group->place;
      // The first of them that may be done.
      if (care.not_before) line.from = std::min(line.from.value_or(*care.not_before), *care.not_before);
      AddOnce(line.lots, group->lot);
      AddOnce(line.plans, group->schedule->standing.plan.get());
      line.wheels.insert(line.wheels.end(), group->wheels.begin(), group->wheels.end());
    }
  }
  std::vector<EarlyLine> all;
  for (auto& [key, line] : lines) {
    std::ranges::sort(line.wheels, {}, [](const RoundWheel& wheel) { return std::pair(wheel.number, wheel.id); });
    all.push_back(std::move(line));
  }
  return all;
}

}  // namespace

std::vector<EarlyLine> OpenLines(const std::vector<const RoundGroup*>& groups) {
  return Gather(groups, [](const CareLine& care) { return care.state == CareState::kOpen; });
}

std::vector<EarlyLine> LaterLines(const std::vector<const RoundGroup*>& groups, Date today) {
  return Gather(groups, [today](const CareLine& care) {
    return care.state == CareState::kNotYet && care.due == today && care.not_before.has_value();
  });
}

}  // namespace rindwatch::rules
