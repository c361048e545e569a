#include "rules/away/visits.hpp"

#include <algorithm>
#include <cstdint>
#include <map>
#include <optional>
#include <set>

namespace rindwatch::rules {
namespace {

using std::chrono::days;

// What a lane can have come to. Kept in one list so that equal ways are one.
struct Way {
  std::vector<Date> done;
  VisitWindow window;
};

class Lane {
 public:
  Lane(VisitLane& rules, Date from) : rules_(rules), from_(from) { ways_.push_back({{}, WindowOf({})}); }

  const Way& At(int way) const { return ways_[static_cast<std::size_t>(way)]; }

  // The way that a doing on `day` leads to.
  int After(int way, Date day) {
    std::vector<Date> done = At(way).done;
    done.push_back(day);
    const auto key = std::pair(static_cast<int>(done.size()), rules_.KeyOf(done));
    const auto [known, is_new] = by_key_.try_emplace(key, static_cast<int>(ways_.size()));
    if (is_new) {
      const VisitWindow window = WindowOf(done);
      ways_.push_back({std::move(done), window});
    }
    return known->second;
  }

 private:
  VisitWindow WindowOf(const std::vector<Date>& done) {
    VisitWindow window = rules_.WindowAfter(done);
    // What nobody could have kept is asked for at once; so nothing is ever asked again on the day of its doing.
    const Date first = done.empty() ? from_ : done.back() + days{1};
    window.end = std::max(window.end, first);
    window.opens = std::min(window.opens, window.end);
    return window;
  }

  VisitLane& rules_;
  Date from_;
  std::vector<Way> ways_;
  std::map<std::pair<int, std::vector<int>>, int> by_key_;
};

// Of each lane all that it can have come to by a day.
using State = std::vector<std::vector<int>>;

// Lanes looked at before the search gives up: some seconds of a small machine.
constexpr std::int64_t kMostLooks = 4'000'000;

class Search {
 public:
  Search(const std::vector<VisitLane*>& lanes, Date from, Date back) : from_(from), back_(back) {
    for (VisitLane* lane : lanes) lanes_.emplace_back(*lane, from);
  }

  std::vector<Date> Days() {
    const State start(lanes_.size(), std::vector<int>{0});
    const int most = std::max(static_cast<int>((back_ - from_).count()), 0);
    for (int visits = 0; visits < most; ++visits) {
      dead_.clear();
      std::vector<Date> found;
      if (Reaches(start, from_ - days{1}, visits, found)) return found;
      if (!Exact()) break;
    }
    return WheneverNeeded(start);
  }

  bool Exact() const { return looks_ < kMostLooks; }

  // The fewest doings of one lane on the given visits.
  std::vector<LaneVisit> DoingsOf(std::size_t lane, const std::vector<Date>& visits) {
    std::map<int, std::vector<LaneVisit>> best{{0, {}}};  // by the way they lead to
    for (const Date visit : visits) {
      std::map<int, std::vector<LaneVisit>> after;
      const auto keep = [&](int way, const std::vector<LaneVisit>& doings) {
        const auto [known, is_new] = after.try_emplace(way, doings);
        if (!is_new && doings.size() < known->second.size()) known->second = doings;
      };
      for (const auto& [way, doings] : best) {
        const VisitWindow window = lanes_[lane].At(way).window;
        if (window.end > visit) keep(way, doings);
        if (visit < window.opens || visit > window.end || window.end >= back_) continue;
        std::vector<LaneVisit> more = doings;
        more.push_back({window, visit});
        keep(lanes_[lane].After(way, visit), more);
      }
      best = std::move(after);
    }
    const std::vector<LaneVisit>* fewest = nullptr;
    for (const auto& [way, doings] : best) {
      if (lanes_[lane].At(way).window.end < back_) continue;
      if (!fewest || doings.size() < fewest->size()) fewest = &doings;
    }
    return fewest ? *fewest : std::vector<LaneVisit>{};
  }

 private:
  // The last day by which somebody has to come.
  Date DeadlineOf(const State& state) const {
    Date deadline = back_;
    for (std::size_t lane = 0; lane < state.size(); ++lane) {
      Date latest = Date::min();
      for (const int way : state[lane]) latest = std::max(latest, lanes_[lane].At(way).window.end);
      deadline = std::min(deadline, latest);
    }
    return deadline;
  }

  State Visited(const State& state, Date day) {
    State after(state.size());
    for (std::size_t lane = 0; lane < state.size(); ++lane) {
      std::set<int> ways;
      for (const int way : state[lane]) {
        const VisitWindow window = lanes_[lane].At(way).window;
        if (window.end > day) ways.insert(way);  // waits for a later visit
        if (window.opens <= day && day <= window.end) ways.insert(lanes_[lane].After(way, day));
      }
      after[lane].assign(ways.begin(), ways.end());
    }
    return after;
  }

  // On each day by which somebody has to come: a visit on every day at the most, which keeps whatever can be kept.
  std::vector<Date> WheneverNeeded(State state) {
    std::vector<Date> visits;
    for (Date day = DeadlineOf(state); day < back_; day = DeadlineOf(state)) {
      visits.push_back(day);
      state = Visited(state, day);
    }
    return visits;
  }

  bool Reaches(const State& state, Date last, int visits, std::vector<Date>& found) {
    const Date deadline = DeadlineOf(state);
    if (deadline >= back_) return true;
    if (visits == 0 || deadline <= last || !Exact()) return false;
    looks_ += static_cast<std::int64_t>(state.size());
    if (dead_.contains({visits, state})) return false;
    for (Date day = deadline; day > last; day -= days{1}) {
      found.push_back(day);
      if (Reaches(Visited(state, day), day, visits - 1, found)) return true;
      found.pop_back();
    }
    dead_.insert({visits, state});
    return false;
  }

  std::vector<Lane> lanes_;
  Date from_, back_;
  std::int64_t looks_ = 0;
  std::set<std::pair<int, State>> dead_;  // from these nothing is reached with so few visits
};

}  // namespace

VisitPlan FewestVisits(const std::vector<VisitLane*>& lanes, Date from, Date back) {
  Search search(lanes, from, back);
  VisitPlan plan;
  plan.days = search.Days();
  plan.exact = search.Exact();
  for (std::size_t lane = 0; lane < lanes.size(); ++lane) plan.lanes.push_back(search.DoingsOf(lane, plan.days));
  return plan;
}

Unvisited WithoutVisit(VisitLane& lane, Date from, Date back) {
  Unvisited without;
  std::vector<Date> done;
  VisitWindow window = lane.WindowAfter(done);
  without.until = window.end;
  for (Date end = std::max(window.end, from); end < back; end = std::max(window.end, end + days{1})) {
    ++without.misses;
    done.push_back(end);
    window = lane.WindowAfter(done);
  }
  return without;
}

}  // namespace rindwatch::rules
