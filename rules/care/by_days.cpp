#include <algorithm>
#include <array>

#include "rules/care/cadence.hpp"
#include "rules/care/verdict.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;

// The day of the last doing of each kind.
using LastDoings = std::array<Date, static_cast<std::size_t>(kLastCareKind) + 1>;
LastDoings Never() {
  LastDoings never;
  never.fill(kLongAgo);
  return never;
}

// The next due day of a care that counts days, carried from deed to deed.
class DayCount {
 public:
  DayCount(const Ground& ground, const Run& run) : ground_(ground), run_(run), kind_(run.care->kinds.front()) {
    BringAlong();
  }

  void Take(const Deed& deed) {
    ShiftUntil(deed.at);
    if (deed.skip) {
      TakeSkip(deed);
    } else {
      TakeDoing(deed);
    }
  }

  // Returns and agreed dates up to the instant.
  void ShiftUntil(Instant at) {
    for (; next_shift_ < ground_.shifts.size() && ground_.shifts[next_shift_].at <= at; ++next_shift_) {
      Apply(ground_.shifts[next_shift_]);
    }
  }

  std::optional<Pending> PendingOn(Date day) const {
    // Past the stages it runs through it is not asked, and no care day brings it back.
    if (counted_ > run_.last) return std::nullopt;
    const Window window = WindowOn(day);
    Pending pending;
    pending.kind = kind_;
    pending.state = StateOn(ground_, window, day);
    pending.due = window.due;
    pending.end = window.end;
    pending.tolerance = run_.ToleranceOn(day);
    pending.away = away_;
    return pending;
  }

  std::vector<Settlement> SettledOn(Date day) && {
    std::erase_if(settled_, [&](const Settlement& settlement) { return settlement.deed.day != day; });
    return std::move(settled_);
  }

 private:
  // The last doing of a kind carries over into these stages, the count of gaps does not.
  void BringAlong() {
    counted_ = Bounded(run_.first);
    const auto begin = ground_.deeds.list.begin();
    for (auto deed = ground_.DeedsFrom(run_.acts_from); deed != begin;) {
      --deed;
      if (!run_.Asks(deed->kind)) continue;
      has_earlier_ = true;
      last_deed_ = std::max(last_deed_, deed->day);
      if (deed->skip) continue;
      counted_ = Bounded(deed->day + days{GapOf(run_.care->cadence, k_)});
      kind_ = run_.KindAfter(deed->kind);
      return;
    }
  }

  void TakeDoing(const Deed& deed) {
    Date& last_of_kind = last_doing_[static_cast<std::size_t>(deed.kind)];
    if (last_of_kind == deed.day) return;  // a repeat
    last_of_kind = deed.day;
    if (last_skip_ == deed.day && !skip_replaced_) {
      skip_replaced_ = true;
      ReplaceSkip(deed);
    } else {
      MoveOn();
      Settle(deed);
    }
    Count(deed.day, deed.day + days{GapOf(run_.care->cadence, k_)});
    kind_ = run_.KindAfter(deed.kind);
  }

  void TakeSkip(const Deed& deed) {
    if (last_skip_ == deed.day) return;  // a repeat
    last_skip_ = deed.day;
    skip_replaced_ = false;
    MoveOn();
    Settle(deed);
    Count(deed.day, std::max(counted_ + days{GapOf(run_.care->cadence, k_)}, deed.day + days{1}));
  }

  void MoveOn() {
    if (has_earlier_) ++k_;
    has_earlier_ = true;
  }

  void Count(Date deed_day, Date next) {
    counted_ = Bounded(next);
    last_deed_ = deed_day;
    away_ = fixed_ = false;
  }

  void Apply(const Shift& shift) {
    if (shift.absence) {
      const Window window = WindowOn(shift.absence->first);
      if (window.due >= shift.day || IsLateBefore(window, *shift.absence)) return;
      counted_ = ground_.NoDayZero(shift.day);
      away_ = fixed_ = true;
    } else if (run_.Asks(shift.kind) && counted_ < shift.until) {
      counted_ = ground_.NoDayZero(shift.until);
      fixed_ = true;
    }
  }

  void Settle(const Deed& deed) {
    const Window window = WindowOn(deed.day);
    settled_.push_back({deed, window.due, window.end, run_.ToleranceOn(deed.day), false});
  }

  void ReplaceSkip(const Deed& deed) {
    const auto skip = std::find_if(settled_.rbegin(), settled_.rend(), [&](const Settlement& settlement) {
      return settlement.deed.skip && settlement.deed.day == deed.day;
    });
    if (skip != settled_.rend()) skip->deed = deed;
  }

  Date Bounded(Date day) const { return ground_.NoDayZero(std::max({day, run_.first, ground_.entry})); }

  Window WindowOn(Date day) const {
    const int tolerance = run_.ToleranceOn(day);
    if (fixed_) return FixedWindow(ground_, counted_, tolerance);
    const Date earliest = std::max({run_.first, ground_.entry, last_deed_ + days{1}});
    return WindowAround(ground_, counted_, tolerance, {earliest, run_.last});
  }

  const Ground& ground_;
  const Run& run_;
  Date counted_;
  int k_ = 1;
  bool has_earlier_ = false;
  Date last_deed_ = kLongAgo;
  LastDoings last_doing_ = Never();
  Date last_skip_ = kLongAgo;
  bool skip_replaced_ = false;
  CareKind kind_;
  bool away_ = false;   // counted from the day of return
  bool fixed_ = false;  // not moved by care days
  std::size_t next_shift_ = 0;
  std::vector<Settlement> settled_;
};

}  // namespace

Verdict JudgeByDays(const Ground& ground, const Run& run, const Moment& moment) {
  DayCount count(ground, run);
  for (auto deed = ground.DeedsFrom(run.acts_from); deed != ground.deeds.list.end(); ++deed) {
    if (deed->day > moment.deeds_until) break;
    if (run.Asks(deed->kind)) count.Take(*deed);
  }
  count.ShiftUntil(moment.at);
  Verdict verdict;
  verdict.pending = count.PendingOn(moment.day);
  verdict.settled = std::move(count).SettledOn(moment.day);
  return verdict;
}

}  // namespace rindwatch::rules
