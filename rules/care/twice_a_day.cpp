#include <algorithm>

#include "rules/care/counts.hpp"

namespace rindwatch::rules {
using std::chrono::days;

HourCount::HourCount(const Ground& ground, Run run) : ground_(ground), run_(std::move(run)) { BringAlong(); }

void HourCount::Take(const Deed& deed) {
  if (last_ && deed.at - *last_ < kRest) {
    if (last_was_skip_ && !deed.skip) ReplaceSkip(deed);
    return;  // otherwise a repeat
  }
  CountOne(deed);
}

std::optional<Pending> HourCount::PendingAt(const Moment& moment) const {
  const Date day = moment.day;
  const Date first = ground_.NoDayZero(std::max({run_.first, ground_.entry, AgreedUntil(moment)}));
  if (day < first || ground_.timeline.IsDayZero(day)) return FirstOf(ground_.NoDayZero(std::max(day, first)), moment);
  const int done = last_ && last_day_ == day ? doings_ : 0;
  if (done == 0) return FirstOf(day, moment);
  if (done == 1 && *last_ + kRest < ground_.turn.EndOf(day)) return SecondOf(day, moment);
  return FirstOf(ground_.NoDayZero(day + days{1}), moment);
}

// What was done just before these stages began still gives the rind its rest.
void HourCount::BringAlong() {
  const auto begin = ground_.deeds.list.begin();
  for (auto deed = ground_.DeedsFrom(run_.acts_from); deed != begin;) {
    --deed;
    if (deed->skip || deed->repeat || !run_.Asks(deed->kind)) continue;
    Remember(*deed);
    doings_ = 1;
    return;
  }
}

void HourCount::CountOne(const Deed& deed) {
  doings_ = last_ && last_day_ == deed.day ? doings_ + 1 : 1;
  Remember(deed);
  settled_.Add({deed, deed.day, deed.day, 0, doings_ > 1});
}

// On the next day it is that day's first.
void HourCount::ReplaceSkip(const Deed& deed) {
  Settlement* const skip = settled_.Last();
  if (skip && last_day_ == deed.day) {
    skip->deed = deed;
    Remember(deed);
  } else {
    CountOne(deed);
  }
}

void HourCount::Remember(const Deed& deed) {
  last_ = deed.at;
  last_was_skip_ = deed.skip;
  last_day_ = deed.day;
  if (!deed.skip) last_kind_ = deed.kind;
}

std::optional<Pending> HourCount::FirstOf(Date day, const Moment& moment) const {
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
    pending.opens = pending.due = pending.end = *missed.since;
  }
  return pending;
}

Pending HourCount::SecondOf(Date day, const Moment& moment) const {
  Pending pending = Asked(day);
  pending.evening = true;
  pending.not_before = *last_ + kRest;
  if (moment.at >= *pending.not_before) pending.state = CareState::kDue;
  return pending;
}

Pending HourCount::Asked(Date day) const {
  Pending pending;
  pending.kind = last_kind_ ? run_.KindAfter(*last_kind_) : run_.care->kinds.front();
  pending.opens = pending.due = pending.end = day;
  return pending;
}

HourCount::Missed HourCount::MissedBefore(const Moment& moment) const {
  Date from = std::max({run_.first, ground_.entry, AgreedUntil(moment)});
  if (last_) from = std::max(from, last_day_ + days{1});
  bool forgiven = false;
  for (const Absence& absence : ground_.absences) {
    if (absence.first > moment.day) break;
    if (absence.last < from) continue;
    // Late on the day before the absence already: the return changes nothing.
    if (IsLateOn(absence.first - days{1}, ground_.NoDayZero(from))) break;
    from = absence.Return();
    forgiven = from <= moment.day;
  }
  from = ground_.NoDayZero(from);
  if (!IsLateOn(moment.day, from)) return {std::nullopt, forgiven};
  return {from, forgiven};
}

// Nothing becomes late on the day after entry.
bool HourCount::IsLateOn(Date day, Date missed_since) const {
  return missed_since < day && day != ground_.entry + days{1};
}

// Until a date agreed at a fault the care that the agreed one stands for is not asked.
Date HourCount::AgreedUntil(const Moment& moment) const {
  Date until = kLongAgo;
  for (const Shift& shift : ground_.shifts) {
    const bool stands = shift.absence == nullptr && run_.Asks(shift.kind) && shift.at <= moment.at;
    if (stands && (!last_ || *last_ < shift.at)) until = std::max(until, shift.until);
  }
  return until;
}

Verdict HourCount::At(const Moment& moment) const { return {PendingAt(moment), settled_.On(moment.day)}; }

}  // namespace rindwatch::rules
