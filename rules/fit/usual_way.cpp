#include <cmath>

#include "rules/fit/fit.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;

// The stages of the plan's usual way, one after another.
struct UsualStage {
  Date from;
  const Stage* stage;
  const Part* part;
};

void AddStages(const std::vector<Stage>& stages, Date start, const Part& part, std::vector<UsualStage>& way) {
  for (const Stage& stage : stages) way.push_back({start + days{stage.first_day}, &stage, &part});
}

std::size_t StageOn(const std::vector<UsualStage>& way, Date day) {
  std::size_t now = 0;
  while (now + 1 < way.size() && way[now + 1].from <= day) ++now;
  return now;
}

std::vector<UsualStage> UsualWay(const Plan& plan, Date made) {
  std::vector<UsualStage> way;
  Date start = made;
  for (const Part& part : plan.parts) {
    if (&part != &plan.parts.front() && part.usual_days) {
      start += days{std::lround((part.usual_days->low + part.usual_days->high) / 2)};
    }
    // What is written beyond the start of the next part is cut off by it.
    while (!way.empty() && way.back().from >= start && &part != &plan.parts.front()) way.pop_back();
    AddStages(part.stages, start, part, way);
    if (!part.branch) continue;
    for (const BranchOption& option : part.branch->options) {
      if (option.name == part.branch->default_option) AddStages(option.stages, start, part, way);
    }
  }
  return way;
}

}  // namespace

Bands UsualBandsOn(const Plan& plan, Date made, Date day) {
  const std::vector<UsualStage> way = UsualWay(plan, made);
  for (std::size_t now = StageOn(way, day); now < way.size(); ++now) {
    const Stage& stage = *way[now].stage;
    if (stage.temperature_band || stage.humidity_band) return {stage.temperature_band, stage.humidity_band};
  }
  return {};
}

bool LeavesFor(const Part& part, bool from_counter) {
  const bool enters = part.start == StartKind::kEnteredCave || part.start == StartKind::kEnteredBox;
  return part.start == StartKind::kEnteredColdStore || (from_counter && enters);
}

std::vector<BandsFrom> UsualBandsAfter(const Plan& plan, Date made, Date day, bool from_counter) {
  std::vector<BandsFrom> coming;
  const std::vector<UsualStage> way = UsualWay(plan, made);
  if (way.empty()) return coming;
  const std::size_t now = StageOn(way, day);
  for (std::size_t i = now + 1; i < way.size(); ++i) {
    if (way[i].part != way[now].part && LeavesFor(*way[i].part, from_counter)) break;
    coming.push_back({way[i].from, {way[i].stage->temperature_band, way[i].stage->humidity_band}});
  }
  return coming;
}

std::vector<StateFrom> UsualStatesOf(const Plan& plan, Date made) {
  std::vector<StateFrom> states;
  for (const UsualStage& one : UsualWay(plan, made)) states.push_back({one.from, one.stage->state, one.stage->counts});
  return states;
}

}  // namespace rindwatch::rules
