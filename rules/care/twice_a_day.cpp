#include <algorithm>

#include "rules/care/verdict.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;
using std::chrono::hours;

constexpr hours kRest{6};  // between two doings of a day, and before the first of the next

// The doings and skips of a care that comes in the morning and in the evening; a skip counts here as a doing.
class HourCount {
 public:
  HourCount(const Ground& ground, const Run& run) : ground_(ground), run_(run) { BringAlong(); }

  void Take(const Deed& deed) {
    if (last_ && deed.at - *last_ < kRest) {
      if (last_was_skip_ && !deed.skip) ReplaceSkip(deed);
      return;  // otherwise a repeat
    }
    CountOne(deed);
  }

  std::optional<Pending> PendingAt(const Moment& moment) const {
    const Date day = moment.day;
    const Date first = ground_.NoDayZero(std::max({run_.first, ground_.entry, AgreedUntil(moment)}));
    if (day < first || ground_.timeline.IsDayZero(day)) return FirstOf(ground_.NoDayZero(std::max(day, first)), moment);
    const int done = last_ && last_day_ == day ? doings_ : 0;
    if (done == 0) return FirstOf(day, moment);
    if (done == 1 && *last_ + kRest < ground_.turn.EndOf(day)) return SecondOf(day, moment);
    return FirstOf(ground_.NoDayZero(day + days{1}), moment);
  }

  std::vector<Settlement> SettledOn(Date day) && {
    std::erase_if(settled_, [&](const Settlement& settlement) { return settlement.deed.day != day; });
    return std::move(settled_);
  }

 private:
  // What was done just before these stages began still gives the rind its rest.
  void BringAlong() {
    const auto begin = ground_.deeds.list.begin();
    const Deed* last = nullptr;
    for (auto deed = ground_.DeedsFrom(run_.acts_from); deed != begin;) {
      --deed;
      if (deed->skip || !run_.Asks(deed->kind)) continue;
      if (last && deed->day != last->day) break;
      last = &*deed;  // of one day the first: the others were repeats
    }
    if (!last) return;
    Remember(*last);
    doings_ = 1;
  }

  void CountOne(const Deed& deed) {
    doings_ = last_ && last_day_ == deed.day ? doings_ + 1 : 1;
    Remember(deed);
    settled_.push_back({deed, deed.day, deed.day, 0, doings_ > 1});
  }

  // On the next day it is that day's first.
  void ReplaceSkip(const Deed& deed) {
    if (last_day_ == deed.day && !settled_.empty()) {
      settled_.back().deed = deed;
      Remember(deed);
    } else {
      CountOne(deed);
    }
  }

  void Remember(const Deed& deed) {
    last_ = deed.at;
    last_was_skip_ = deed.skip;
    last_day_ = deed.day;
    if (!deed.skip) last_kind_ = deed.kind;
  }

  std::optional<Pending> FirstOf(Date day, const Moment& moment) const {
    if (day > run_.last) return std::nullopt;
    Pending pending = Asked(day);
    pending.not_before = ground_.turn.StartOf(day);
    if (last_) pending.not_before = std::max(*pending.not_before, *last_ + kRest);
    if (ground_.timeline.IsDayZero(moment.day) || moment.at < *pending.not_before) return pending;
    pending.state = CareState::kDue;
    const Missed missed = MissedBefore(moment);
    pending.away = missed.forgiven;
    if (missed.since) {
      pending.state = CareState::kLate;
      pending.due = pending.end = *missed.since;
    }
    return pending;
  }

  Pending SecondOf(Date day, const Moment& moment) const {
    Pending pending = Asked(day);
    pending.evening = true;
    pending.not_before = *last_ + kRest;
    if (moment.at >= *pending.not_before) pending.state = CareState::kDue;
    return pending;
  }

  Pending Asked(Date day) const {
    Pending pending;
    pending.kind = last_kind_ ? run_.KindAfter(*last_kind_) : run_.care->kinds.front();
    pending.due = pending.end = day;
    return pending;
  }

  // Days before entry, away days and days 0 are not days without a doing.
  struct Missed {
    std::optional<Date> since;  // the first whole day without a counted doing
    bool forgiven = false;      // a return wiped out what an absence left undone
  };
  Missed MissedBefore(const Moment& moment) const {
    Date from = std::max({run_.first, ground_.entry, AgreedUntil(moment)});
    if (last_) from = std::max(from, last_day_ + days{1});
    bool forgiven = false;
    for (const Absence& absence : ground_.absences) {
      if (absence.first > moment.day) break;
      if (absence.last < from) continue;
      // Late on the day before the absence already: the return changes nothing.
      if (ground_.NoDayZero(from) + days{1} < absence.first) break;
      from = absence.Return();
      forgiven = from <= moment.day;
    }
    from = ground_.NoDayZero(from);
    if (from >= moment.day || moment.day == ground_.entry + days{1}) return {std::nullopt, forgiven};
    return {from, forgiven};
  }

  // Until a date agreed at a fault the care that the agreed one stands for is not asked.
  Date AgreedUntil(const Moment& moment) const {
    Date until = kLongAgo;
    for (const Shift& shift : ground_.shifts) {
      const bool stands = shift.absence == nullptr && run_.Asks(shift.kind) && shift.at <= moment.at;
      if (stands && (!last_ || *last_ < shift.at)) until = std::max(until, shift.until);
    }
    return until;
  }

  const Ground& ground_;
  const Run& run_;
  std::optional<Instant> last_;  // counted doing or skip
  bool last_was_skip_ = false;
  Date last_day_ = kLongAgo;
  int doings_ = 0;  // counted on last_day_
  std::optional<CareKind> last_kind_;
  std::vector<Settlement> settled_;
};

}  // namespace

Verdict JudgeTwiceADay(const Ground& ground, const Run& run, const Moment& moment) {
  HourCount count(ground, run);
  for (auto deed = ground.DeedsFrom(run.acts_from); deed != ground.deeds.list.end(); ++deed) {
    if (deed->day > moment.deeds_until) break;
    if (run.Asks(deed->kind)) count.Take(*deed);
  }
  Verdict verdict;
  verdict.pending = count.PendingAt(moment);
  verdict.settled = std::move(count).SettledOn(moment.day);
  return verdict;
}

}  // namespace rindwatch::rules
