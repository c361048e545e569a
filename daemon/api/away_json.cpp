#include <algorithm>
#include <cmath>
#include <deque>
#include <map>
#include <memory>
#include <tuple>

#include "daemon/api/ahead_views.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/lives.hpp"
#include "rules/away/leaving.hpp"
#include "rules/plans/kinds.hpp"
#include "rules/round/line_making.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::CareKind;
using rules::Date;
using std::chrono::days;

namespace {

// Lid off, lid and floor wiped, lid on (common practice, no source: as long as a change of a board).
constexpr double kLidSeconds = 20;

// One life as it is left, with its windows. Keeps its address.
struct LeftLife {
  LeftLife(const Life& of, rules::Left as_left) : life(of), left(std::move(as_left)), lane(left) {}
  const Life life;
  const rules::Left left;
  rules::HelperLane lane;
  rules::Unvisited without;
  std::vector<rules::LaneVisit> visits;

  bool InBox() const { return life.cave && life.cave->kind == CaveKind::kBox; }
  const rules::Plan& Plan() const { return *life.First().history.plans.back().plan; }
  rules::RindClass Rind() const { return Plan().rind; }
};
using LeftLives = std::deque<LeftLife>;

// Wheels of a life by the board they lie on.
std::map<std::string, std::vector<const WheelRow*>> ByShelf(const Book& book, const Life& life) {
  std::map<std::string, std::vector<const WheelRow*>> shelves;
  for (const WheelRow* wheel : life.wheels) shelves[book.PlaceOf(*wheel).shelf].push_back(wheel);
  return shelves;
}

int CaveOrder(const std::vector<const CaveRow*>& caves, const CaveRow* cave) {
  return static_cast<int>(std::ranges::find(caves, cave) - caves.begin());
}

// Adds up what is alike, and gives it back in working order.
struct WorkKey {
  rules::RindClass rind;
  int cave_order;
  int age_group;  // young before old
  std::string shelf;
  std::vector<CareKind> kinds;
  auto operator<=>(const WorkKey&) const = default;
};
struct Work {
  const CaveRow* cave = nullptr;
  std::vector<rules::WheelId> wheels;
  double seconds = 0;
};
using Works = std::map<WorkKey, Work>;

// A window of one place as the page draws it.
struct Window {
  Date from, to;
  std::vector<CareKind> kinds;
  std::optional<Date> visit;
  auto operator<=>(const Window&) const = default;
};

class Planning {
 public:
  Planning(const ApiContext& context, const AwayQuestion& question) : context_(context), question_(question) {
    const Book& book = context.book();
    caves_ = book.Caves();
    for (const Life& life : LivesOf(book)) {
      if (!Asked(life)) continue;
      const auto calendar = book.CalendarOf(life.cave ? std::optional(life.cave->id) : std::nullopt);
      lives_.emplace_back(
          life, rules::LeaveAlone(life.First().history, calendar, context.now(), question.from, question.back));
      LeftLife& left = lives_.back();
      left.without = rules::WithoutVisit(left.lane, question.from, question.back);
    }
    Plan();
  }

  json::object Json() {
    return {{"head", HeadJson(context_)},
            {"from", DayJson(question_.from)},
            {"back", DayJson(question_.back)},
            {"visits", VisitsJson()},
            {"lanes", LanesJson()},
            {"without", WithoutJson()},
            {"no_visit", NoVisitJson()},
            {"before", BeforeJson()},
            {"normal", NormalJson()},
            {"marked", json::array{}}};
  }

 private:
  bool Asked(const Life& life) const {
    if (life.First().history.plans.empty()) return false;
    return question_.caves.empty() || (life.cave && std::ranges::count(question_.caves, life.cave->id) > 0);
  }

  void Plan() {
    std::vector<rules::VisitLane*> lanes;
    std::vector<LeftLife*> asking;
    for (LeftLife& life : lives_) {
      if (life.without.misses == 0) continue;
      lanes.push_back(&life.lane);
      asking.push_back(&life);
    }
    const Date today = context_.book().Home().DayOf(context_.now());
    const Date first = std::max(question_.from, today + days{question_.from <= today ? 1 : 0});
    rules::VisitPlan plan = rules::FewestVisits(lanes, first, question_.back);
    days_ = std::move(plan.days);
    for (std::size_t n = 0; n < asking.size(); ++n) asking[n]->visits = std::move(plan.lanes[n]);
  }

  std::string PlaceOf(const CaveRow* cave, const std::string& shelf) const { return PlaceName(cave, shelf); }

  void AddWork(Works& works, const LeftLife& life, const std::vector<CareKind>& kinds) const {
    const Book& book = context_.book();
    for (const auto& [shelf, wheels] : ByShelf(book, life.life)) {
      Work& work = works[{life.Rind(), CaveOrder(caves_, life.life.cave), AgeGroupOf(life), shelf, kinds}];
      work.cave = life.life.cave;
      for (const WheelRow* wheel : wheels) {
        work.wheels.push_back(wheel->id);
        work.seconds += pace_.SecondsOf(kinds, rules::WeightOr(book.WeightOf(*wheel), life.Plan()));
      }
    }
  }

  static int AgeGroupOf(const LeftLife& life) {
    return rules::AgeGroupOf(life.Rind(), life.lane.StandingOn(life.left.last_day).age);
  }

  static int MinutesOf(double seconds) {
    return seconds > 0 ? std::max(1, static_cast<int>(std::ceil(seconds / 60))) : 0;
  }

  json::array VisitsJson() {
    json::array visits;
    for (const Date day : days_) {
      Works works;
      for (LeftLife& life : lives_) {
        std::vector<Date> done;
        for (const rules::LaneVisit& visit : life.visits) {
          done.push_back(visit.on);
          if (visit.on == day) AddWork(works, life, life.lane.DoneOn(done));
        }
      }
      visits.push_back(VisitJson(day, works));
    }
    return visits;
  }

  json::object VisitJson(Date day, const Works& works) const {
    json::array lines;
    double seconds = 0;
    std::optional<rules::RindClass> before;
    const CaveRow* lid = nullptr;
    for (const auto& [key, work] : works) {
      if (key.kinds.empty()) continue;
      const bool box = work.cave && work.cave->kind == CaveKind::kBox;
      const bool change = before && *before != key.rind;
      seconds += work.seconds + (change ? 60 : 0) + (box && work.cave != lid ? kLidSeconds : 0);
      lid = work.cave;
      before = key.rind;
      lines.push_back({{"place", PlaceOf(work.cave, key.shelf)},
                       {"cave_name", work.cave ? work.cave->name : std::string{}},
                       {"box", box},
                       {"rind", rules::ToText(key.rind)},
                       {"kinds", KindsJson(key.kinds)},
                       {"count", work.wheels.size()},
                       {"change", change}});
    }
    return {{"day", DayJson(day)}, {"minutes", MinutesOf(seconds)}, {"lines", std::move(lines)}};
  }

  // The windows of one place: of all lives there, each as its visits make it.
  json::array LanesJson() {
    std::map<std::pair<int, std::string>, std::pair<const CaveRow*, std::vector<Window>>> places;
    for (LeftLife& life : lives_) {
      std::vector<Window> windows;
      std::vector<Date> done;
      for (const rules::LaneVisit& visit : life.visits) {
        windows.push_back({visit.window.opens, visit.window.end, life.lane.AskedAfter(done), visit.on});
        done.push_back(visit.on);
      }
      const rules::VisitWindow last = life.lane.WindowAfter(done);
      if (last.opens < question_.back) windows.push_back({last.opens, last.end, life.lane.AskedAfter(done), {}});
      for (const auto& [shelf, wheels] : ByShelf(context_.book(), life.life)) {
        auto& [cave, all] = places[{CaveOrder(caves_, life.life.cave), shelf}];
        cave = life.life.cave;
        all.insert(all.end(), windows.begin(), windows.end());
      }
    }
    json::array lanes;
    for (auto& [key, place] : places) {
      auto& [cave, windows] = place;
      std::ranges::sort(windows);
      windows.erase(std::ranges::unique(windows).begin(), windows.end());
      json::array array;
      for (const Window& window : windows) {
        json::object object{{"from", DayJson(std::max(window.from, question_.from))},
                            {"to", DayJson(window.to)},
                            {"kinds", KindsJson(window.kinds)}};
        if (window.visit) object["visit"] = DayJson(*window.visit);
        array.push_back(std::move(object));
      }
      lanes.push_back(
          {{"place", PlaceOf(cave, key.second)}, {"cave", cave ? cave->id : 0}, {"windows", std::move(array)}});
    }
    return lanes;
  }

  rules::Harm HarmOf(const LeftLife& life) const {
    const auto standing = life.lane.StandingOn(life.left.last_day);
    const auto state = standing.stage ? standing.stage->state : rules::WheelState::kDrying;
    return rules::HarmOf(life.Rind(), state, life.InBox(), life.without.misses);
  }

  // One missed window harms no rind: such a place does without.
  json::array WithoutJson() const {
    std::map<std::pair<int, std::string>, std::pair<const CaveRow*, Date>> places;
    std::map<std::pair<int, std::string>, int> misses;
    for (const LeftLife& life : lives_) {
      for (const auto& [shelf, wheels] : ByShelf(context_.book(), life.life)) {
        const auto key = std::pair(CaveOrder(caves_, life.life.cave), shelf);
        const Date until = std::min(life.without.until, question_.back - days{1});
        const auto [known, is_new] = places.try_emplace(key, life.life.cave, until);
        known->second.second = std::min(known->second.second, until);
        misses[key] = std::max(misses[key], life.without.misses);
      }
    }
    json::array without;
    for (const auto& [key, place] : places) {
      if (misses[key] > 1) continue;
      without.push_back({{"place", PlaceOf(place.first, key.second)}, {"until", DayJson(place.second)}});
    }
    return without;
  }

  json::array NoVisitJson() const {
    // The gravest of a place; of two alike that which is missed more often.
    std::map<std::pair<int, std::string>, std::tuple<rules::Harm, int, const CaveRow*>> places;
    for (const LeftLife& life : lives_) {
      if (life.without.misses < 2) continue;
      const std::tuple worst{HarmOf(life), -life.without.misses, life.life.cave};
      for (const auto& [shelf, wheels] : ByShelf(context_.book(), life.life)) {
        const auto [known, is_new] = places.try_emplace({CaveOrder(caves_, life.life.cave), shelf}, worst);
        known->second = std::min(known->second, worst);
      }
    }
    json::array array;
    for (const auto& [key, worst] : places) {
      const auto& [harm, misses, cave] = worst;
      const std::string word(rules::ToText(harm));
      const std::string what = harm == rules::Harm::kLate
                                   ? context_.words.Count("harm.late", static_cast<std::size_t>(-misses))
                                   : context_.words.Say("harm." + word);
      array.push_back({{"place", PlaceOf(cave, key.second)}, {"what", what}, {"harm", word}});
    }
    return array;
  }

  json::array BeforeJson() const {
    Works works;
    for (const LeftLife& life : lives_) {
      for (const rules::CareLine& line : life.left.before) {
        if (line.evening) continue;  // the same care, twice on the last day
        std::vector<CareKind> kinds = line.kinds;
        if (line.care) {
          for (const CareKind kind : line.care->brings) {
            if (!rules::Contains(kinds, kind)) kinds.push_back(kind);
          }
        }
        AddWork(works, life, kinds);
      }
    }
    json::array before;
    for (const auto& [key, work] : works) {
      json::array wheels;
      for (const rules::WheelId id : work.wheels) wheels.push_back(id);
      before.push_back({{"place", PlaceOf(work.cave, key.shelf)},
                        {"cave", work.cave ? work.cave->id : 0},
                        {"kinds", KindsJson(key.kinds)},
                        {"wheels", std::move(wheels)},
                        {"count", work.wheels.size()},
                        {"minutes", MinutesOf(work.seconds)}});
    }
    AddLids(before);
    return before;
  }

  // A box left shut is too damp, one left open too dry.
  void AddLids(json::array& before) const {
    for (const CaveRow* cave : caves_) {
      std::size_t count = 0;
      for (const LeftLife& life : lives_) {
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

  // Of the rinds that a helper meets; drops where there is a lid.
  json::array NormalJson() const {
    constexpr std::pair<rules::RindClass, const char*> kNormal[] = {{rules::RindClass::kFreshAndWhite, "white"},
                                                                    {rules::RindClass::kNaturalAndPressed, "grey"},
                                                                    {rules::RindClass::kWashed, "orange"},
                                                                    {rules::RindClass::kBlue, "blue"}};
    json::array array;
    const auto any = [&](auto is) { return std::ranges::any_of(lives_, is); };
    for (const auto& [rind, key] : kNormal) {
      if (any([&, r = rind](const LeftLife& life) { return life.Rind() == r; })) {
        array.push_back(json::string(std::string("sheet.normal.") + key));
      }
    }
    if (any([](const LeftLife& life) { return life.InBox(); })) array.push_back("sheet.normal.drops");
    return array;
  }

  const ApiContext& context_;
  const AwayQuestion& question_;
  const rules::Pace pace_;
  std::vector<const CaveRow*> caves_;
  LeftLives lives_;
  std::vector<Date> days_;
};

}  // namespace

json::object AwayJson(const ApiContext& context, const AwayQuestion& question) {
  return Planning(context, question).Json();
}

}  // namespace rindwatch
