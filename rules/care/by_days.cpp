#include <algorithm>

#include "rules/care/cadence.hpp"
#include "rules/care/counts.hpp"

namespace rindwatch::rules {

using std::chrono::days;

Settlement* Settled::LastSkipOn(Date day) {
  const auto skip = std::find_if(list_.rbegin(), list_.rend(), [&](const Settlement& settlement) {
    return settlement.deed.skip && settlement.deed.day == day;
  });
  return skip == list_.rend() ? nullptr : &*skip;
}

DayCount::DayCount(const Ground& ground, Run run)
    : ground_(ground), run_(std::move(run)), kind_(run_.care->kinds.front()) {
  BringAlong();
}

void DayCount::Take(const Deed& deed) {
  ShiftUntil(deed.at);
  if (deed.skip) {
    TakeSkip(deed);
  } else {
    TakeDoing(deed);
  }
}

// Returns and agreed dates up to the instant.
void DayCount::ShiftUntil(Instant at) {
  for (; next_shift_ < ground_.shifts.size() && ground_.shifts[next_shift_].at <= at; ++next_shift_) {
    Apply(ground_.shifts[next_shift_]);
  }
}

std::optional<Pending> DayCount::PendingOn(Date day) const {
  // Past the stages it runs through it is not asked, and no care day brings it back.
  if (counted_ > run_.last) return std::nullopt;
  const Window window = WindowOn(day);
  Pending pending;
  pending.kind = kind_;
  pending.state = StateOn(ground_, window, day);
  pending.opens = window.opens;
  pending.due = window.due;
  pending.end = window.end;
  pending.tolerance = run_.ToleranceOn(day);
  pending.away = away_;
  return pending;
}

// The last doing of a kind carries over into these stages, the count of gaps does not.
void DayCount::BringAlong() {
  counted_ = Bounded(run_.first);
  const auto begin = ground_.deeds.list.begin();
  for (auto deed = ground_.DeedsFrom(run_.acts_from); deed != begin;) {
    --deed;
    if (deed->repeat || !run_.Asks(deed->kind)) continue;
    has_earlier_ = true;
    last_deed_ = std::max(last_deed_, deed->day);
    if (deed->skip) continue;
    counted_ = Bounded(deed->day + days{GapOf(run_.care->cadence, k_)});
    kind_ = run_.KindAfter(deed->kind);
    return;
  }
}

void DayCount::TakeDoing(const Deed& deed) {
  Date& last_of_kind = last_doing_[deed.kind];
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

void DayCount::TakeSkip(const Deed& deed) {
  if (last_skip_ == deed.day) return;  // a repeat
  last_skip_ = deed.day;
  skip_replaced_ = false;
  MoveOn();
  Settle(deed);
  Count(deed.day, std::max(counted_ + days{GapOf(run_.care->cadence, k_)}, deed.day + days{1}));
}

void DayCount::MoveOn() {
  if (has_earlier_) ++k_;
  has_earlier_ = true;
}

void DayCount::Count(Date deed_day, Date next) {
  counted_ = Bounded(next);
  last_deed_ = deed_day;
  away_ = fixed_ = false;
}

void DayCount::Apply(const Shift& shift) {
  if (shift.absence) {
    // The tolerance may differ from stage to stage: the due day is that of the return, lateness that of the day before.
    const bool is_late = IsLateBefore(WindowOn(shift.absence->first - days{1}), *shift.absence);
    if (is_late || WindowOn(shift.day).due >= shift.day) return;
    counted_ = ground_.NoDayZero(shift.day);
    away_ = fixed_ = true;
  } else if (run_.Asks(shift.kind) && counted_ < shift.until) {
    counted_ = ground_.NoDayZero(shift.until);
    fixed_ = true;
  }
}

void DayCount::Settle(const Deed& deed) {
  const Window window = WindowOn(deed.day);
  settled_.Add({deed, window.due, window.end, run_.ToleranceOn(deed.day), false});
}

void DayCount::ReplaceSkip(const Deed& deed) {
  if (Settlement* skip = settled_.LastSkipOn(deed.day)) skip->deed = deed;
}

Date DayCount::Bounded(Date day) const { return ground_.NoDayZero(std::max({day, run_.first, ground_.entry})); }

Window DayCount::WindowOn(Date day) const {
  const int tolerance = run_.ToleranceOn(day);
  if (fixed_) return FixedWindow(ground_, counted_, tolerance);
  const Date earliest = std::max({run_.first, ground_.entry, last_deed_ + days{1}});
  return WindowAround(ground_, counted_, tolerance, {earliest, run_.last});
}

Verdict DayCount::At(const Moment& moment) {
  ShiftUntil(moment.at);
  return {PendingOn(moment.day), settled_.On(moment.day)};
}

}  // namespace rindwatch::rules
