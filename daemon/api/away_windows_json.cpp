// The windows of an absence, place by place: when each is visited, who does without, and what happens with no visit.
#include <algorithm>
#include <optional>
#include <tuple>

#include "daemon/api/away_plan.hpp"
#include "daemon/api/json.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::CareKind;
using rules::Date;
using std::chrono::days;

namespace {

struct Window {
  Date from, to;
  std::vector<CareKind> kinds;
  std::optional<Date> visit;
  auto operator<=>(const Window&) const = default;
};

// Those that the visits meet, and the one after, if it opens before the return.
std::vector<Window> WindowsOf(const AwayPlan& plan, LeftLife& life) {
  std::vector<Window> windows;
  std::vector<Date> done;
  for (const rules::LaneVisit& visit : life.visits) {
    windows.push_back({visit.window.opens, visit.window.end, life.lane.AskedAfter(done), visit.on});
    done.push_back(visit.on);
  }
  const rules::VisitWindow last = life.lane.WindowAfter(done);
  if (last.opens < plan.question.back) windows.push_back({last.opens, last.end, life.lane.AskedAfter(done), {}});
  return windows;
}

json::object WindowJson(const AwayPlan& plan, const Window& window) {
  json::object object{{"from", DayJson(std::max(window.from, plan.question.from))},
                      {"to", DayJson(window.to)},
                      {"kinds", KindsJson(window.kinds)}};
  if (window.visit) object["visit"] = DayJson(*window.visit);
  return object;
}

rules::Harm HarmOf(const LeftLife& life) {
  const auto standing = life.lane.StandingOn(life.left.last_day);
  const auto state = standing.stage ? standing.stage->state : rules::WheelState::kDrying;
  return rules::HarmOf(life.Rind(), state, life.InBox(), life.without.misses);
}

std::string WordsOf(const Words& words, rules::Harm harm, int misses) {
  if (harm == rules::Harm::kLate) return words.Count("harm.late", static_cast<std::size_t>(misses));
  return words.Say("harm." + std::string(rules::ToText(harm)));
}

}  // namespace

json::array LanesJson(AwayPlan& plan) {
  std::map<AwayPlace, std::vector<Window>> places;
  for (LeftLife& life : plan.lives) {
    const std::vector<Window> windows = WindowsOf(plan, life);
    for (const auto& [place, wheels] : plan.PlacesOf(life)) {
      auto& all = places[place];
      all.insert(all.end(), windows.begin(), windows.end());
    }
  }
  json::array lanes;
  for (auto& [place, windows] : places) {
    std::ranges::sort(windows);
    windows.erase(std::ranges::unique(windows).begin(), windows.end());
    const CaveRow* cave = plan.CaveAt(place);
    json::array array;
    for (const Window& window : windows) array.push_back(WindowJson(plan, window));
    lanes.push_back({{"place", plan.NameOf(place)}, {"cave", cave ? cave->id : 0}, {"windows", std::move(array)}});
  }
  return lanes;
}

// One window that passes harms no rind: such a place does without.
json::array WithoutJson(const AwayPlan& plan) {
  struct Wait {
    Date until = Date::max();
    int misses = 0;
  };
  std::map<AwayPlace, Wait> places;
  for (const LeftLife& life : plan.lives) {
    for (const auto& [place, wheels] : plan.PlacesOf(life)) {
      Wait& wait = places[place];
      wait.until = std::min(wait.until, std::min(life.without.until, plan.question.back - days{1}));
      wait.misses = std::max(wait.misses, life.without.misses);
    }
  }
  json::array without;
  for (const auto& [place, wait] : places) {
    if (wait.misses < 2) without.push_back({{"place", plan.NameOf(place)}, {"until", DayJson(wait.until)}});
  }
  return without;
}

json::array NoVisitJson(const AwayPlan& plan) {
  // The gravest of a place; of two alike that of which more windows pass.
  std::map<AwayPlace, std::pair<rules::Harm, int>> places;
  for (const LeftLife& life : plan.lives) {
    if (life.without.misses < 2) continue;
    const std::pair worst{HarmOf(life), -life.without.misses};
    for (const auto& [place, wheels] : plan.PlacesOf(life)) {
      const auto [known, is_new] = places.try_emplace(place, worst);
      known->second = std::min(known->second, worst);
    }
  }
  json::array array;
  for (const auto& [place, worst] : places) {
    array.push_back({{"place", plan.NameOf(place)},
                     {"what", WordsOf(plan.context.words, worst.first, -worst.second)},
                     {"harm", rules::ToText(worst.first)}});
  }
  return array;
}

}  // namespace rindwatch
