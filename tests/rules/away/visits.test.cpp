#include "rules/away/visits.hpp"

#include <algorithm>
#include <memory>
#include <random>

#include "tests/catch.hpp"

using namespace rindwatch::rules;
using std::chrono::days;

namespace {

constexpr Date kFrom = MakeDate(2026, 12, 3);
Date Day(int n) { return kFrom + days{n}; }

// Due `first` days after the first day away, then every `every` days; a window of `tolerance` days around each.
class Every final : public VisitLane {
 public:
  Every(int first, int every, int tolerance) : first_(first), every_(every), tolerance_(tolerance) {}
  VisitWindow WindowAfter(const std::vector<Date>& done) override {
    const Date due = done.empty() ? Day(first_) : done.back() + days{every_};
    return {due - days{tolerance_}, due + days{tolerance_}};
  }
  std::vector<int> KeyOf(const std::vector<Date>& done) override {
    return {static_cast<int>(done.back().time_since_epoch().count())};
  }

 private:
  int first_, every_, tolerance_;
};

using Lanes = std::vector<std::unique_ptr<VisitLane>>;

VisitPlan Visits(const Lanes& lanes, int absence) {
  std::vector<VisitLane*> all;
  for (const auto& lane : lanes) all.push_back(lane.get());
  return FewestVisits(all, kFrom, Day(absence));
}

template <typename... Of>
Lanes With(Of... of) {
  Lanes lanes;
  (lanes.push_back(std::make_unique<Every>(of)), ...);
  return lanes;
}

std::vector<int> DaysOf(const VisitPlan& plan) {
  std::vector<int> numbers;
  for (const Date day : plan.days) numbers.push_back(static_cast<int>((day - kFrom).count()));
  return numbers;
}

// Whether some doings on the days of the mask keep the lane inside its windows until the return.
bool Keeps(VisitLane& lane, unsigned mask, int absence, std::vector<Date>& done, int from_day) {
  const VisitWindow window = lane.WindowAfter(done);
  const Date first = done.empty() ? kFrom : done.back() + days{1};
  const Date end = std::max(window.end, first);
  if (end >= Day(absence)) return true;
  for (int day = from_day; day < absence && Day(day) <= end; ++day) {
    if ((mask >> day & 1U) == 0 || Day(day) < std::min(window.opens, end)) continue;
    done.push_back(Day(day));
    const bool kept = Keeps(lane, mask, absence, done, day + 1);
    done.pop_back();
    if (kept) return true;
  }
  return false;
}

// By trying every set of days.
int FewestByTrying(const Lanes& lanes, int absence) {
  int fewest = absence;
  for (unsigned mask = 0; mask < 1U << absence; ++mask) {
    const int visits = __builtin_popcount(mask);
    if (visits >= fewest) continue;
    bool all = true;
    for (const auto& lane : lanes) {
      std::vector<Date> done;
      all = all && Keeps(*lane, mask, absence, done, 0);
    }
    if (all) fewest = visits;
  }
  return fewest;
}

}  // namespace

TEST_CASE("who asks for nothing before the return needs no visit") {
  CHECK(DaysOf(Visits(With(Every(12, 7, 2)), 10)).empty());
  CHECK(DaysOf(Visits(With(Every(9, 7, 1)), 10)).empty());  // its window ends on the day of return
  CHECK(DaysOf(Visits({}, 10)).empty());
}

TEST_CASE("one visit serves every lane whose window holds it, as late as it may be") {
  const VisitPlan plan = Visits(With(Every(4, 9, 1), Every(5, 9, 2), Every(3, 9, 2)), 9);
  CHECK(DaysOf(plan) == std::vector<int>{5});
  for (const auto& lane : plan.lanes) {
    REQUIRE(lane.size() == 1);
    CHECK(lane.front().on == Day(5));
  }
}

TEST_CASE("what is asked next is counted from the visit, not from the day it was due") {
  // Due on 4, then 4 days after its doing: one on day 5 is due again on 9.
  CHECK(DaysOf(Visits(With(Every(4, 4, 1)), 10)) == std::vector<int>{5});
  CHECK(DaysOf(Visits(With(Every(4, 4, 1)), 11)) == std::vector<int>{5, 10});
  CHECK(DaysOf(Visits(With(Every(0, 1, 0)), 4)) == std::vector<int>{0, 1, 2, 3});
}

TEST_CASE("a lane waits for the later of two visits where that saves one") {
  // The first lane needs days 2 and 6. The second may be done on day 2, but on day 6 it lasts to the return.
  const VisitPlan plan = Visits(With(Every(2, 4, 0), Every(4, 5, 2)), 10);
  CHECK(DaysOf(plan) == std::vector<int>{2, 6});
  REQUIRE(plan.lanes[1].size() == 1);
  CHECK(plan.lanes[1][0].on == Day(6));
}

TEST_CASE("what could not be kept at all is asked for on the first day") {
  CHECK(DaysOf(Visits(With(Every(-3, 20, 1)), 9)) == std::vector<int>{0});
}

TEST_CASE("without a visit: the last day of the first window, and how many windows pass") {
  Every weekly(4, 7, 2), daily(0, 1, 0), rare(30, 30, 4);
  const Unvisited two = WithoutVisit(weekly, kFrom, Day(16));
  CHECK(two.until == Day(6));
  CHECK(two.misses == 2);  // day 6, then day 15
  CHECK(WithoutVisit(daily, kFrom, Day(5)).misses == 5);
  CHECK(WithoutVisit(rare, kFrom, Day(16)).misses == 0);
}

TEST_CASE("no plan of random cellars can be beaten, and every lane keeps inside its windows") {
  std::mt19937 chance(20261203);
  const auto roll = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(chance); };
  for (int round = 0; round < 150; ++round) {
    const int absence = roll(2, 11);
    Lanes lanes;
    for (int n = roll(1, 5); n > 0; --n) {
      const int every = roll(1, 7);
      lanes.push_back(std::make_unique<Every>(roll(0, every), every, roll(0, (every - 1) / 2)));
    }
    const VisitPlan plan = Visits(lanes, absence);
    INFO("round " << round);
    REQUIRE(plan.exact);
    CHECK(static_cast<int>(plan.days.size()) == FewestByTrying(lanes, absence));
    for (std::size_t n = 0; n < lanes.size(); ++n) {
      std::vector<Date> done;
      for (const LaneVisit& visit : plan.lanes[n]) {
        CHECK(visit.window == lanes[n]->WindowAfter(done));
        CHECK((visit.window.opens <= visit.on && visit.on <= visit.window.end));
        CHECK(std::ranges::count(plan.days, visit.on) == 1);
        done.push_back(visit.on);
      }
      CHECK(lanes[n]->WindowAfter(done).end >= Day(absence));
    }
  }
}

TEST_CASE("three weeks of forty lives are planned exactly, and the same way each time") {
  std::mt19937 chance(7);
  const auto roll = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(chance); };
  Lanes lanes;
  for (int n = 0; n < 40; ++n) {
    const int every = roll(2, 10);
    lanes.push_back(std::make_unique<Every>(roll(1, every), every, every < 5 ? 1 : 2));
  }
  const VisitPlan plan = Visits(lanes, 21);
  CHECK(plan.exact);
  CHECK(Visits(lanes, 21).days == plan.days);
}
