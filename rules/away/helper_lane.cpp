#include <algorithm>

#include "rules/away/leaving.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;
using std::chrono::hours;

constexpr hours kVisit{12};  // by the clock on the wall
constexpr days kNever{4000};

bool Pending(const CareLine& line) {
  return line.OnRound() || line.state == CareState::kOpen || line.state == CareState::kNotYet;
}

bool AsksHelper(const CareLine& line) { return std::ranges::any_of(WholeOf(line), IsForHelper); }

// The window stays around the counted day, wherever a care day moved the due day.
VisitWindow WindowOf(const CareLine& line) {
  return {std::min(line.due, line.window_end - days{2 * line.tolerance}), line.window_end};
}

}  // namespace

// A life after the doings of some days.
struct HelperLane::Lived {
  std::vector<CareAct> acts;     // of the visits
  std::vector<CareKind> did;     // on the last of them, as far as a helper does it
  VisitWindow window{};          // that follows
  std::vector<CareKind> asks{};  // in it
};

HelperLane::HelperLane(const Left& left) : left_(left) {}
HelperLane::~HelperLane() = default;

namespace {

// Looks at a life with some visits added to it, without keeping a second history.
class Looking {
 public:
  Looking(const Left& left, const std::vector<CareAct>& visits) : left_(left), wheel_(left.wheel) {
    wheel_.acts.insert(wheel_.acts.end(), visits.begin(), visits.end());
  }

  Schedule At(Instant at) const { return ScheduleAt(wheel_, left_.calendar, at); }

 private:
  const Left& left_;
  WheelHistory wheel_;
};

struct Next {
  VisitWindow window;
  std::vector<CareKind> asks;
};

// Of what is asked of a helper after the end of `day`, what cannot wait longest.
Next NextAfter(const Left& left, const Looking& looking, Date day) {
  const auto& turn = left.calendar.turn;
  Next next{{day + kNever, day + kNever}, {}};
  Instant at = turn.EndOf(day) - Millis{1};
  while (true) {
    const Schedule schedule = looking.At(at);
    const auto* const stage = schedule.standing.stage;
    const Date written_end =
        stage && stage->last_day ? schedule.standing.part_start + days{*stage->last_day} : day + kNever;
    // The last stage of a part goes on until a hand says that the next one begins.
    const bool ends = written_end < day + kNever && turn.DayOf(at) <= written_end;
    const Date last = ends ? written_end : day + kNever;
    for (const CareLine& line : schedule.lines) {
      if (!Pending(line) || !AsksHelper(line)) continue;
      if (line.due > last) continue;  // not asked any more: the next stage has its own
      const VisitWindow window = WindowOf(line);
      const VisitWindow later{std::max(window.opens, day + days{1}), std::max(window.end, day + days{1})};
      if (later.end < next.window.end) next = {later, WholeOf(line)};
    }
    if (!next.asks.empty() || !ends) return next;
    // Nothing more in this stage: what does the next one ask?
    at = turn.zone.FirstInstantAtOrAfter(LocalTime{last + days{1}} + kVisit);
  }
}

}  // namespace

const HelperLane::Lived& HelperLane::After(const std::vector<Date>& done) {
  auto& known = lived_[done];
  if (known) return *known;
  auto lived = std::make_unique<Lived>();
  if (!done.empty()) {
    const std::vector<Date> before(done.begin(), done.end() - 1);
    lived->acts = After(before).acts;
    const Instant at = left_.calendar.turn.zone.FirstInstantAtOrAfter(LocalTime{done.back()} + kVisit);
    // The whole line counts as done, so that the next window is the plan's; what the helper leaves out waits for the
    // keeper, and is told as (away).
    CareAct act;
    act.id = "visit " + std::to_string(done.size());
    act.at = act.known_from = at;
    std::vector<CareKind> kinds;
    for (const CareLine& line : Looking(left_, lived->acts).At(at).lines) {
      if (!AsksHelper(line) || !Pending(line) || line.state == CareState::kNotYet) continue;
      for (const CareKind kind : WholeOf(line)) {
        if (Contains(kinds, kind)) continue;
        kinds.push_back(kind);
        if (IsForHelper(kind)) lived->did.push_back(kind);
      }
    }
    act.done = kinds;
    if (!kinds.empty()) lived->acts.push_back(std::move(act));
  }
  const Next next = NextAfter(left_, Looking(left_, lived->acts), done.empty() ? left_.last_day : done.back());
  lived->window = next.window;
  lived->asks = next.asks;
  lived_[done] = std::move(lived);
  return *lived_[done];
}

VisitWindow HelperLane::WindowAfter(const std::vector<Date>& done) { return After(done).window; }

std::vector<CareKind> HelperLane::DoneOn(const std::vector<Date>& done) { return After(done).did; }

std::vector<CareKind> HelperLane::AskedAfter(const std::vector<Date>& done) { return After(done).asks; }

Standing HelperLane::StandingOn(Date day) const {
  const auto& zone = left_.calendar.turn.zone;
  return StandingAt(left_.wheel, left_.calendar, zone.FirstInstantAtOrAfter(LocalTime{day} + kVisit));
}

// What follows a doing depends on its day, on how many went before, and on how many of them in the same stage: cadences
// that alternate count anew there.
std::vector<int> HelperLane::KeyOf(const std::vector<Date>& done) {
  const Standing standing = StandingOn(done.back());
  const Date stage_from = standing.part_start + days{standing.stage ? standing.stage->first_day : 0};
  const auto in_stage = std::ranges::count_if(done, [&](Date day) { return day >= stage_from; });
  return {static_cast<int>(done.back().time_since_epoch().count()), static_cast<int>(in_stage)};
}

}  // namespace rindwatch::rules
