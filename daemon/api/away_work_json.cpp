// The work of an absence: what the helper does on each visit, and what the keeper does before leaving.
#include <algorithm>
#include <optional>
#include <utility>

#include "daemon/api/away_plan.hpp"
#include "daemon/api/json.hpp"
#include "rules/plans/kinds.hpp"
#include "rules/round/line_making.hpp"
#include "rules/round/sections.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::CareKind;
using rules::Date;

namespace {

// Lid off, lid and floor wiped, lid on (common practice, no source: as long as a change of a board).
constexpr double kLidSeconds = 20;

// In working order.
struct WorkKey {
  rules::RindClass rind;
  int cave_order;
  int age_group;  // young before old
  std::string shelf;
  std::vector<CareKind> kinds;
  auto operator<=>(const WorkKey&) const = default;
  AwayPlace Place() const { return {cave_order, shelf}; }
};
struct Work {
  std::vector<rules::WheelId> wheels;
  double seconds = 0;
};
using Works = std::map<WorkKey, Work>;

void AddWork(const AwayPlan& plan, const LeftLife& life, const std::vector<CareKind>& kinds, Works& works) {
  const rules::Pace& pace = plan.context.watch.ThePace();
  const int age_group = rules::AgeGroupOf(life.Rind(), life.lane.StandingOn(life.left.last_day).age);
  for (const auto& [place, wheels] : plan.PlacesOf(life)) {
    Work& work = works[{life.Rind(), place.cave_order, age_group, place.shelf, kinds}];
    for (const WheelRow* wheel : wheels) {
      work.wheels.push_back(wheel->id);
      work.seconds += pace.SecondsOf(kinds, rules::WeightOr(plan.context.book().WeightOf(*wheel), life.Plan()));
    }
  }
}

// Young and old of one board are one step, at the place of the youngest; not where a cloth would go from old to young.
std::vector<std::pair<WorkKey, Work>> AgesJoined(const Works& works) {
  std::vector<std::pair<WorkKey, Work>> joined;
  for (const auto& [key, work] : works) {
    if (key.kinds.empty()) continue;
    const auto same = std::ranges::find_if(joined, [&, k = &key](const auto& other) {
      return !rules::UsesCloth(k->kinds) && other.first.rind == k->rind && other.first.Place() == k->Place() &&
             other.first.kinds == k->kinds;
    });
    if (same == joined.end()) {
      joined.emplace_back(key, work);
      continue;
    }
    same->second.wheels.insert(same->second.wheels.end(), work.wheels.begin(), work.wheels.end());
    same->second.seconds += work.seconds;
  }
  return joined;
}

json::object VisitJson(const AwayPlan& plan, Date day, const Works& works) {
  json::array lines;
  double seconds = 0;
  std::optional<rules::RindClass> before;
  const CaveRow* lid = nullptr;
  for (const auto& [key, work] : AgesJoined(works)) {
    const CaveRow* cave = plan.CaveAt(key.Place());
    const bool box = cave != nullptr && cave->kind == CaveKind::kBox;
    const bool change = before && *before != key.rind;
    seconds += work.seconds + (change ? static_cast<double>(rules::kChangeTime.count()) : 0) +
               (box && cave != lid ? kLidSeconds : 0);
    lid = cave;
    before = key.rind;
    lines.push_back({{"place", plan.NameOf(key.Place())},
                     {"cave_name", cave ? cave->name : std::string{}},
                     {"box", box},
                     {"rind", rules::ToText(key.rind)},
                     {"age_group", key.age_group},
                     {"kinds", KindsJson(key.kinds)},
                     {"count", work.wheels.size()}});
  }
  return {{"day", DayJson(day)}, {"minutes", rules::InWholeMinutes(seconds)}, {"lines", std::move(lines)}};
}

// A box left shut is too damp, one left open too dry.
void AddLids(const AwayPlan& plan, json::array& before) {
  for (const CaveRow* cave : plan.caves) {
    std::size_t count = 0;
    for (const LeftLife& life : plan.lives) {
      if (life.life.cave == cave && life.InBox()) count += life.life.wheels.size();
    }
    if (count == 0) continue;
    before.push_back({{"place", cave->name},
                      {"cave", cave->id},
                      {"kinds", json::array{}},
                      {"wheels", json::array{}},
                      {"count", count},
                      {"minutes", 0},
                      {"lid", true}});
  }
}

}  // namespace

json::array VisitsJson(AwayPlan& plan) {
  json::array visits;
  for (const Date day : plan.visits) {
    Works works;
    for (LeftLife& life : plan.lives) {
      std::vector<Date> done;
      for (const rules::LaneVisit& visit : life.visits) {
        done.push_back(visit.on);
        if (visit.on == day) AddWork(plan, life, life.lane.DoneOn(done), works);
      }
    }
    visits.push_back(VisitJson(plan, day, works));
  }
  return visits;
}

json::array BeforeJson(const AwayPlan& plan) {
  Works works;
  for (const LeftLife& life : plan.lives) {
    // One wheel is in hand once: all that is to be done with it, what comes a second time in the evening included.
    std::vector<CareKind> kinds;
    for (const rules::CareLine& line : life.left.before) {
      for (const CareKind kind : rules::WholeOf(line)) {
        if (!rules::Contains(kinds, kind)) kinds.push_back(kind);
      }
    }
    if (!kinds.empty()) AddWork(plan, life, kinds, works);
  }
  json::array before;
  for (const auto& [key, work] : works) {
    const CaveRow* cave = plan.CaveAt(key.Place());
    json::array wheels;
    for (const rules::WheelId id : work.wheels) wheels.push_back(id);
    before.push_back({{"place", plan.NameOf(key.Place())},
                      {"cave", cave ? cave->id : 0},
                      {"kinds", KindsJson(key.kinds)},
                      {"wheels", std::move(wheels)},
                      {"count", work.wheels.size()},
                      {"minutes", rules::InWholeMinutes(work.seconds)}});
  }
  AddLids(plan, before);
  return before;
}

}  // namespace rindwatch
