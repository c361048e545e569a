#include <algorithm>
#include <utility>

#include "rules/care/cadence.hpp"
#include "rules/care/counts.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;

// Where absences and agreed dates leave a care that nothing settled up to the instant.
struct Placed {
  Date counted;
  Window window;
  bool away = false;
};

// `put_off`: the kind by which an agreed care can put this one off; none for an agreed care itself.
Placed PlaceAt(const Ground& ground, Date counted, int tolerance, const Bounds& bounds, std::optional<CareKind> put_off,
               Instant at) {
  Placed placed{counted, WindowAround(ground, counted, tolerance, bounds), false};
  for (const Shift& shift : ground.shifts) {
    if (shift.at > at) break;
    if (shift.absence) {
      if (placed.window.due >= shift.day || IsLateBefore(placed.window, *shift.absence)) continue;
      placed.away = true;
      placed.counted = ground.NoDayZero(shift.day);
    } else if (shift.kind == put_off && placed.window.due < shift.until) {
      placed.counted = ground.NoDayZero(shift.until);
    } else {
      continue;
    }
    placed.window = FixedWindow(ground, placed.counted, tolerance);
  }
  return placed;
}

Pending PendingOf(const Ground& ground, const Placed& placed, CareKind kind, int tolerance, Date day) {
  Pending pending;
  pending.kind = kind;
  pending.state = StateOn(ground, placed.window, day);
  pending.opens = placed.window.opens;
  pending.due = placed.window.due;
  pending.end = placed.window.end;
  pending.tolerance = tolerance;
  pending.away = placed.away;
  return pending;
}

}  // namespace

OnceCount::OnceCount(const Ground& ground, std::size_t index) : ground_(ground) {
  const Segment& segment = ground.timeline.Segments()[index];
  first_ = segment.part_start + days{segment.stage->first_day};
  const std::vector<Care>& cares = segment.stage->cares;
  for (std::size_t place = 0; place < cares.size(); ++place) {
    const auto* once = std::get_if<OnceOnDay>(&cares[place].cadence);
    if (once) Add(place, segment.part_start + days{once->day}, RunOf(ground, index, cares[place]));
  }
  std::ranges::stable_sort(cares_, {}, &One::day);
}

void OnceCount::Add(std::size_t place, Date day, Run run) {
  One one;
  one.place = place;
  one.run = std::move(run);
  one.day = day;
  one.known_from = std::max(one.run.first, ground_.entry);
  one.unknown = day + days{ToleranceOf(*one.run.care)} < one.known_from;
  one.counted = ground_.NoDayZero(std::max(day, one.known_from));
  cares_.push_back(std::move(one));
}

// Each doing or skip of a kind settles the first of its cares that is open. A doing later on the day of a skip takes
// the skip's place.
void OnceCount::Take(const Deed& deed) {
  if (IsRepeat(deed) || ReplacesSkip(deed)) return;
  for (One& care : cares_) {
    if (care.settled_by || !care.run.Asks(deed.kind)) continue;
    if (care.unknown && deed.day >= care.known_from) continue;
    care.settled_by = deed;
    return;
  }
}

// A care day brings it no nearer to the last deed of its kind than the day after: done again on that day it would be a
// repeat, which settles nothing.
Bounds OnceCount::BoundsOf(const One& care, CareKind kind) const {
  const Date day_after = std::max(last_doing_[kind], last_skip_[kind]) + days{1};
  return {std::max(care.known_from, std::min(day_after, care.counted)), care.run.last};
}

bool OnceCount::IsRepeat(const Deed& deed) {
  Date& last = (deed.skip ? last_skip_ : last_doing_)[deed.kind];
  return std::exchange(last, deed.day) == deed.day;
}

bool OnceCount::ReplacesSkip(const Deed& deed) {
  if (deed.skip) return false;
  const auto skipped = std::ranges::find_if(cares_, [&](const One& care) {
    return care.settled_by && care.settled_by->skip && care.settled_by->day == deed.day && care.run.Asks(deed.kind);
  });
  if (skipped == cares_.end()) return false;
  skipped->settled_by = deed;
  return true;
}

Verdict OnceCount::At(std::size_t place, const Moment& moment) const {
  const One& care = *std::ranges::find(cares_, place, &One::place);
  const CareKind kind = care.run.care->kinds.front();
  const int tolerance = ToleranceOf(*care.run.care);
  const Bounds bounds = care.settled_by ? Bounds{care.known_from, care.run.last} : BoundsOf(care, kind);
  const Instant until = care.settled_by ? care.settled_by->at : moment.at;
  Verdict verdict;
  if (care.settled_by && care.settled_by->day != moment.day) return verdict;
  const Placed placed = PlaceAt(ground_, care.counted, tolerance, bounds, kind, until);
  if (care.settled_by) {
    verdict.settled.push_back({*care.settled_by, placed.window.due, placed.window.end, tolerance, false});
  } else if (!care.unknown && placed.counted <= care.run.last) {
    verdict.pending = PendingOf(ground_, placed, kind, tolerance, moment.day);
  }
  return verdict;
}

Verdict JudgeAgreed(const Ground& ground, const AgreedDeed& agreed) {
  constexpr int kTolerance = 1;
  const CareKind kind = agreed.care->kind;
  const Date earliest = std::max(agreed.asked_on, ground.entry);
  const Date counted = ground.NoDayZero(std::max(agreed.care->day, earliest));
  const Instant until = agreed.settled_by ? agreed.settled_by->at : ground.asked;
  const Placed placed = PlaceAt(ground, counted, kTolerance, {earliest, kForEver}, std::nullopt, until);
  Verdict verdict;
  if (!agreed.settled_by) {
    verdict.pending = PendingOf(ground, placed, kind, kTolerance, ground.today);
  } else if (agreed.settled_by->day == ground.today) {
    verdict.settled.push_back({*agreed.settled_by, placed.window.due, placed.window.end, kTolerance, false});
  }
  return verdict;
}

}  // namespace rindwatch::rules
