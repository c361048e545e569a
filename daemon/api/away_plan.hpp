// An absence as it is planned: how each life is left, and the fewest visits to all of them. Made for one answer; points
// into the book.
#pragma once

#include <boost/json.hpp>
#include <deque>
#include <map>
#include <string>
#include <vector>

#include "daemon/api/ahead_views.hpp"
#include "daemon/api/lives.hpp"
#include "rules/away/leaving.hpp"

namespace rindwatch {

// One life as it is left, with its windows. Keeps its address.
struct LeftLife {
  LeftLife(Life of, rules::Left as_left) : life(std::move(of)), left(std::move(as_left)), lane(left) {}
  LeftLife(const LeftLife&) = delete;
  LeftLife(LeftLife&&) = delete;
  LeftLife& operator=(const LeftLife&) = delete;
  LeftLife& operator=(LeftLife&&) = delete;
  ~LeftLife() = default;

  const Life life;
  const rules::Left left;
  rules::HelperLane lane;
  rules::Unvisited without;                // what comes of no visit at all
  std::vector<rules::LaneVisit> visits{};  // what the helper does for it, in order

  bool InBox() const { return life.cave != nullptr && life.cave->kind == CaveKind::kBox; }
  const rules::Plan& Plan() const { return *life.First().History().plans.back().plan; }
  rules::RindClass Rind() const { return Plan().rind; }
};

// A board, or a cave whose boards have no names; in the keeper's order of caves.
struct AwayPlace {
  int cave_order = 0;
  std::string shelf;
  auto operator<=>(const AwayPlace&) const = default;
};

struct AwayPlan {
  const ApiContext& context;
  const AwayQuestion& question;
  std::vector<const CaveRow*> caves;
  std::deque<LeftLife> lives;
  std::vector<rules::Date> visits;

  const CaveRow* CaveAt(const AwayPlace& place) const;  // null: nowhere of ours
  std::string NameOf(const AwayPlace& place) const;
  std::map<AwayPlace, std::vector<const WheelRow*>> PlacesOf(const LeftLife& life) const;
};

// Fills in lives and visits.
void PlanAway(AwayPlan& plan);

// ---- parts of the answer ----
boost::json::array VisitsJson(AwayPlan& plan);
boost::json::array BeforeJson(const AwayPlan& plan);
boost::json::array LanesJson(AwayPlan& plan);
boost::json::array WithoutJson(const AwayPlan& plan);
boost::json::array NoVisitJson(const AwayPlan& plan);

}  // namespace rindwatch
