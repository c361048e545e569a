#include "daemon/round/ticks.hpp"

#include <map>

#include "rules/round/line_making.hpp"

namespace rindwatch {

std::vector<rules::Tick> TicksSince(const Book& book, rules::Instant since) {
  std::map<rules::ActId, rules::Tick> ticks;
  for (const WheelRow* wheel : book.Wheels()) {
    if (wheel->History().plans.empty()) continue;
    const rules::Plan& plan = *wheel->History().plans.back().plan;
    for (const rules::CareAct& act : wheel->History().acts) {
      // An act whose time was said, not tapped, tells nothing of how long it took.
      if (act.at < since || act.at != act.known_from || act.done.Empty()) continue;
      rules::Tick& tick = ticks[act.id];
      if (tick.count++ > 0) continue;
      tick.at = act.at;
      tick.day = book.Home().DayOf(act.at);
      tick.kinds = act.done.List();
      tick.rind = plan.rind;
      tick.weight = rules::WeightOr(book.WeightOf(*wheel), plan);
      if (const std::string* keeper = book.KeeperOf(act.id)) tick.keeper = *keeper;
    }
  }
  std::vector<rules::Tick> all;
  for (auto& [id, tick] : ticks) all.push_back(std::move(tick));
  return all;
}

}  // namespace rindwatch
