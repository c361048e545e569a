#include "rules/care/look_ahead.hpp"

#include <algorithm>
#include <array>

#include "rules/care/walk.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;
using std::chrono::hours;

constexpr std::array kRounds{hours{7}, hours{19}};  // by the clock on the wall

Instant RoundOf(const CareCalendar& calendar, Date day, hours hour) {
  return calendar.turn.zone.FirstInstantAtOrAfter(LocalTime{day} + hour);
}

// What a line still asks for.
KindSet AskedBy(const CareLine& line) { return KindSet{line.kinds}.Without(line.done_kinds); }

std::vector<CareLine> OnRound(const Walk& walk) {
  std::vector<CareLine> lines;
  if (walk.AsksAnything()) lines = walk.Lines();
  std::erase_if(lines, [](const CareLine& line) { return !line.OnRound(); });
  return lines;
}

// Does every line at each round, then answers every question on its first day: a start with yes, a branch with its
// default. Does nothing on the days that the calendar marks as away.
class PerfectKeeper {
 public:
  PerfectKeeper(const WheelHistory& wheel, const CareCalendar& calendar, Instant from)
      : walk_(wheel, calendar, from), calendar_(calendar), from_(from) {}

  // `see` hears the lines of each round of the day that has any. Days ascend.
  template <typename See>
  void Live(Date day, See see) {
    if (walk_.TheGround().AbsenceOn(day)) return;  // nobody comes; what waits is counted from the return
    for (const hours hour : kRounds) {
      const Instant at = RoundOf(calendar_, day, hour);
      if (at < from_ || at < next_) continue;
      const std::vector<CareLine> lines = DoRound(at);
      if (!lines.empty()) see(lines);
    }
  }

 private:
  std::vector<CareLine> DoRound(Instant at) {
    walk_.GoTo(at);
    std::vector<CareLine> lines = OnRound(walk_);
    KindSet asked;
    for (const CareLine& line : lines) asked = asked.With(AskedBy(line));
    const std::vector<Question> questions = walk_.Questions();
    if (!asked.Empty()) walk_.Do(asked);
    for (const Question& question : questions) walk_.Answer(question);
    next_ = walk_.AsksAnything() ? at : walk_.NextChange();
    return lines;
  }

  Walk walk_;
  const CareCalendar& calendar_;
  Instant from_;
  Instant next_ = Instant::min();  // before it no round holds anything
};

// Each kind once, in the order of the lines.
std::vector<CareKind> KindsOf(const std::vector<CareLine>& lines) {
  std::vector<CareKind> kinds;
  for (const CareLine& line : lines) {
    const KindSet asked = AskedBy(line);
    for (const CareKind kind : line.kinds) {
      if (asked.Has(kind) && !Contains(kinds, kind)) kinds.push_back(kind);
    }
  }
  return kinds;
}

}  // namespace

std::vector<Ahead> LookAhead(const WheelHistory& wheel, const CareCalendar& calendar, Instant from, int day_count,
                             std::size_t at_most) {
  std::vector<Ahead> ahead;
  PerfectKeeper keeper(wheel, calendar, from);
  const Date first = calendar.turn.DayOf(from);
  for (Date day = first; day < first + days{day_count} && ahead.size() < at_most; day += days{1}) {
    Ahead today{day, {}};
    keeper.Live(day, [&](const std::vector<CareLine>& lines) {
      const std::vector<CareKind> kinds = KindsOf(lines);
      today.kinds.insert(today.kinds.end(), kinds.begin(), kinds.end());
    });
    if (!today.kinds.empty()) ahead.push_back(std::move(today));
  }
  return ahead;
}

std::vector<ComingCare> ComingCares(const WheelHistory& wheel, const CareCalendar& calendar, Instant from, Date last) {
  std::vector<ComingCare> coming;
  PerfectKeeper keeper(wheel, calendar, from);
  for (Date day = calendar.turn.DayOf(from); day <= last; day += days{1}) {
    keeper.Live(day, [&](const std::vector<CareLine>& lines) {
      for (const CareLine& line : lines) {
        coming.push_back(
            {line.kinds, line.opens, line.due, line.window_end, day, line.evening, line.agreed, line.care});
      }
    });
  }
  return coming;
}

std::vector<UnsettledRound> UnsettledRounds(const WheelHistory& wheel, const CareCalendar& calendar, Date first,
                                            Instant asked) {
  constexpr hours kHalfDay{6};  // after it a second doing may follow
  std::vector<UnsettledRound> unsettled;
  Walk walk(wheel, calendar, asked);
  const Date today = calendar.turn.DayOf(asked);
  for (Date day = first; day < today; day += days{1}) {
    if (walk.TheGround().AbsenceOn(day)) continue;
    for (const hours hour : kRounds) {
      walk.GoTo(RoundOf(calendar, day, hour));
      std::vector<CareLine> lines = OnRound(walk);
      std::erase_if(lines, [&](const CareLine& line) {
        const Instant window_end = calendar.turn.EndOf(std::max(line.window_end, day));
        const Instant until = line.not_before ? std::min(window_end, walk.TheGround().asked + kHalfDay) : window_end;
        return walk.IsSettledUntil(line.kinds.front(), until);
      });
      if (lines.empty()) continue;
      unsettled.push_back({day, walk.TheGround().asked, KindsOf(lines)});
      walk.Do(KindSet{unsettled.back().kinds});
    }
  }
  return unsettled;
}

}  // namespace rindwatch::rules
