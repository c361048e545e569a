#include "rules/care/starts_behind.hpp"

#include <algorithm>
#include <cmath>
#include <ranges>

#include "rules/care/known.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;

const Part* PartFrom(const Plan& plan, StartKind kind) {
  const auto part = std::ranges::find(plan.parts, kind, &Part::start);
  return part == plan.parts.end() ? nullptr : &*part;
}

// The part of an earlier plan that begins with the yes to the same question; the latest plan's first.
const Part* AskedBefore(const Known& known, const Part& part) {
  for (const auto* given : known.plans | std::views::reverse) {
    const std::vector<Part>& parts = given->plan->parts;
    const auto same = std::ranges::find(parts, part.question, &Part::question);
    if (same != parts.end()) return &*same;
  }
  return nullptr;
}

}  // namespace

std::vector<StartBehind> StartsBehind(const WheelHistory& wheel, const Plan& plan, const DayTurn& turn, Instant at) {
  std::vector<StartBehind> behind;
  const Known known = StandingKnownAt(wheel, at);
  if (known.plans.empty() || plan.parts.empty()) return behind;
  const Plan& before = *known.plans.back()->plan;
  const StartEvent* first = known.StartOf(plan.parts.front().start);
  const StartEvent* birth = first ? first : known.StartOf(before.parts.front().start);
  if (!birth) return behind;
  if (!first) behind.push_back({plan.parts.front().start, birth->day, true});
  Date day = birth->day;
  for (auto part = plan.parts.begin() + 1; part != plan.parts.end(); ++part) {
    if (const StartEvent* start = known.StartOf(part->start)) {
      day = std::max(day, start->day);
      continue;
    }
    const bool by_hand = BegunBy(*part) || part->start == StartKind::kEnteredColdStore;
    if (by_hand || PartFrom(before, part->start)) break;
    if (const Part* asked = AskedBefore(known, *part)) {
      const StartEvent* answered = known.StartOf(asked->start);
      if (!answered) break;
      day = std::max(day, answered->day);
      behind.push_back({part->start, day, answered->reckoned});
      continue;
    }
    if (!part->usual_days) break;
    day += days{std::lround((part->usual_days->low + part->usual_days->high) / 2)};
    if (day >= turn.DayOf(at)) break;
    behind.push_back({part->start, day, true});
  }
  return behind;
}

}  // namespace rindwatch::rules
