#include <algorithm>
#include <map>
#include <utility>

#include "rules/care/cadence.hpp"
#include "rules/care/verdict.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;

// A care that comes once, with what settled it.
struct OnceCare {
  std::size_t place = 0;  // in the stage
  Run run;
  Date day;              // as the plan or the keeper wants it
  Date known_from;       // entry, or the plan or answer that gave it
  Date counted;          // known_from at the earliest
  bool unknown = false;  // its time was over before the wheel was known
  std::optional<Deed> settled_by;
};

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
  pending.due = placed.window.due;
  pending.end = placed.window.end;
  pending.tolerance = tolerance;
  pending.away = placed.away;
  return pending;
}

// The once cares of a stage in the order of their days.
std::vector<OnceCare> OnceCaresOf(const Ground& ground, std::size_t index) {
  const Segment& segment = ground.timeline.Segments()[index];
  std::vector<OnceCare> cares;
  for (std::size_t place = 0; place < segment.stage->cares.size(); ++place) {
    const Care& care = segment.stage->cares[place];
    const auto* once = std::get_if<OnceOnDay>(&care.cadence);
    if (!once) continue;
    OnceCare found;
    found.place = place;
    found.run = RunOf(ground, index, care);
    found.day = segment.part_start + days{once->day};
    found.known_from = std::max(found.run.first, ground.entry);
    found.unknown = found.day + days{ToleranceOf(care)} < found.known_from;
    found.counted = ground.NoDayZero(std::max(found.day, found.known_from));
    cares.push_back(std::move(found));
  }
  std::ranges::stable_sort(cares, {}, &OnceCare::day);
  return cares;
}

// Each doing or skip of a kind settles the first of its cares that is open. A doing later on the day of a skip takes
// the skip's place.
class Settler {
 public:
  explicit Settler(std::vector<OnceCare>& cares) : cares_(cares) {}

  void Take(const Deed& deed) {
    if (IsRepeat(deed) || ReplacesSkip(deed)) return;
    for (OnceCare& care : cares_) {
      if (care.settled_by || !care.run.Asks(deed.kind)) continue;
      if (care.unknown && deed.day >= care.known_from) continue;
      care.settled_by = deed;
      return;
    }
  }

 private:
  bool IsRepeat(const Deed& deed) {
    Date& last = (deed.skip ? last_skip_ : last_doing_).try_emplace(deed.kind, kLongAgo).first->second;
    return std::exchange(last, deed.day) == deed.day;
  }

  bool ReplacesSkip(const Deed& deed) {
    if (deed.skip) return false;
    const auto skipped = std::ranges::find_if(cares_, [&](const OnceCare& care) {
      return care.settled_by && care.settled_by->skip && care.settled_by->day == deed.day && care.run.Asks(deed.kind);
    });
    if (skipped == cares_.end()) return false;
    skipped->settled_by = deed;
    return true;
  }

  std::vector<OnceCare>& cares_;
  std::map<CareKind, Date> last_doing_, last_skip_;
};

// The stage holds its days under an earlier version of the plan too.
void SettleFromDeeds(const Ground& ground, const Segment& segment, const Moment& moment, std::vector<OnceCare>& cares) {
  Settler settler(cares);
  const Date first = segment.part_start + days{segment.stage->first_day};
  for (auto deed = ground.DeedsFrom(first); deed != ground.deeds.list.end(); ++deed) {
    if (deed->day > moment.deeds_until) break;
    settler.Take(*deed);
  }
}

Verdict VerdictOf(const Ground& ground, const OnceCare& care, const Moment& moment) {
  const int tolerance = ToleranceOf(*care.run.care);
  const Bounds bounds{care.known_from, care.run.last};
  const Instant until = care.settled_by ? care.settled_by->at : moment.at;
  const Placed placed = PlaceAt(ground, care.counted, tolerance, bounds, care.run.care->kinds.front(), until);
  Verdict verdict;
  if (care.settled_by) {
    if (care.settled_by->day != moment.day) return verdict;
    verdict.settled.push_back({*care.settled_by, placed.window.due, placed.window.end, tolerance, false});
  } else if (!care.unknown && placed.counted <= care.run.last) {
    verdict.pending = PendingOf(ground, placed, care.run.care->kinds.front(), tolerance, moment.day);
  }
  return verdict;
}

}  // namespace

std::vector<std::optional<Verdict>> JudgeOnce(const Ground& ground, std::size_t index, const Moment& moment) {
  const Segment& segment = ground.timeline.Segments()[index];
  std::vector<std::optional<Verdict>> verdicts(segment.stage->cares.size());
  std::vector<OnceCare> cares = OnceCaresOf(ground, index);
  if (cares.empty()) return verdicts;
  SettleFromDeeds(ground, segment, moment, cares);
  for (const OnceCare& care : cares) verdicts[care.place] = VerdictOf(ground, care, moment);
  return verdicts;
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
