#include "daemon/api/away_plan.hpp"

#include <algorithm>

#include "daemon/api/json.hpp"

namespace rindwatch {

using rules::Date;
using std::chrono::days;

namespace {

bool Asked(const AwayPlan& plan, const Life& life) {
  if (life.First().History().plans.empty()) return false;
  const auto& caves = plan.question.caves;
  return caves.empty() || (life.cave != nullptr && std::ranges::count(caves, life.cave->id) > 0);
}

}  // namespace

const CaveRow* AwayPlan::CaveAt(const AwayPlace& place) const {
  const auto order = static_cast<std::size_t>(place.cave_order);
  return order < caves.size() ? caves[order] : nullptr;
}

std::string AwayPlan::NameOf(const AwayPlace& place) const {
  return PlaceName(context.book(), CaveAt(place), place.shelf);
}

std::map<AwayPlace, std::vector<const WheelRow*>> AwayPlan::PlacesOf(const LeftLife& life) const {
  const int order = static_cast<int>(std::ranges::find(caves, life.life.cave) - caves.begin());
  std::map<AwayPlace, std::vector<const WheelRow*>> places;
  for (const WheelRow* wheel : life.life.wheels) {
    places[{order, context.book().PlaceOf(*wheel).shelf}].push_back(wheel);
  }
  return places;
}

void PlanAway(AwayPlan& plan) {
  const Book& book = plan.context.book();
  const AwayQuestion& question = plan.question;
  plan.caves = book.Caves();
  std::vector<rules::VisitLane*> lanes;
  std::vector<LeftLife*> asking;
  for (const Life& life : LivesOf(book)) {
    if (!Asked(plan, life)) continue;
    const auto calendar = book.CalendarOf(life.cave ? std::optional(life.cave->id) : std::nullopt);
    LeftLife& left = plan.lives.emplace_back(
        life, rules::LeaveAlone(life.First().History(), calendar, plan.context.now(), question.from, question.back));
    left.without = rules::WithoutVisit(left.lane, question.from, question.back);
    // Who does without asks for nobody.
    if (left.without.misses == 0) continue;
    lanes.push_back(&left.lane);
    asking.push_back(&left);
  }
  // Whoever leaves today was there today.
  const Date today = book.Home().DayOf(plan.context.now());
  const Date first = std::max(question.from, today + days{question.from <= today ? 1 : 0});
  rules::VisitPlan visits = rules::FewestVisits(lanes, first, question.back);
  plan.visits = std::move(visits.days);
  for (std::size_t n = 0; n < asking.size(); ++n) asking[n]->visits = std::move(visits.lanes[n]);
}

}  // namespace rindwatch
