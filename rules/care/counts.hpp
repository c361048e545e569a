// How the cares of a stage are counted, from deed to deed. A count takes the deeds of its kinds in their order and
// tells at a moment, not before the deeds it has taken, what is asked then. It lives no longer than the ground it
// stands on, and is made anew when the ground's timeline is.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "rules/care/run.hpp"
#include "rules/care/verdict.hpp"
#include "rules/care/window.hpp"

namespace rindwatch::rules {

// The day of the last deed of each kind.
class LastDays {
 public:
  LastDays() { days_.fill(kLongAgo); }
  Date operator[](CareKind kind) const { return days_[static_cast<std::size_t>(kind)]; }
  Date& operator[](CareKind kind) { return days_[static_cast<std::size_t>(kind)]; }

 private:
  std::array<Date, static_cast<std::size_t>(kLastCareKind) + 1> days_;
};

// Every N days, N a week.
class DayCount {
 public:
  DayCount(const Ground& ground, Run run);
  const Run& TheRun() const { return run_; }
  void Take(const Deed& deed);
  Verdict At(const Moment& moment);

 private:
  void BringAlong();
  void ShiftUntil(Instant at);
  void Apply(const Shift& shift);
  void TakeDoing(const Deed& deed);
  void TakeSkip(const Deed& deed);
  void MoveOn();
  void Count(Date deed_day, Date next);
  void Settle(const Deed& deed);
  void ReplaceSkip(const Deed& deed);
  Date Bounded(Date day) const;
  Window WindowOn(Date day) const;
  std::optional<Pending> PendingOn(Date day) const;

  const Ground& ground_;
  Run run_;
  Date counted_;
  int k_ = 1;
  bool has_earlier_ = false;
  Date last_deed_ = kLongAgo;
  LastDays last_doing_;
  Date last_skip_ = kLongAgo;
  bool skip_replaced_ = false;
  CareKind kind_;
  bool away_ = false;   // counted from the day of return
  bool fixed_ = false;  // not moved by care days
  std::size_t next_shift_ = 0;
  Settled settled_;
};

// Morning and evening; a skip counts here as a doing.
class HourCount {
 public:
  HourCount(const Ground& ground, Run run);
  const Run& TheRun() const { return run_; }
  void Take(const Deed& deed);
  Verdict At(const Moment& moment) const;

 private:
  // Days before entry, away days and days 0 are not days without a doing.
  struct Missed {
    std::optional<Date> since;  // the first whole day without a counted doing
    bool forgiven = false;      // a return wiped out what an absence left undone
  };

  void BringAlong();
  void CountOne(const Deed& deed);
  void ReplaceSkip(const Deed& deed);
  void Remember(const Deed& deed);
  std::optional<Pending> PendingAt(const Moment& moment) const;
  std::optional<Pending> FirstOf(Date day, const Moment& moment) const;
  Pending SecondOf(Date day, const Moment& moment) const;
  Pending Asked(Date day) const;
  Missed MissedBefore(const Moment& moment) const;
  bool IsLateOn(Date day, Date missed_since) const;
  Date AgreedUntil(const Moment& moment) const;

  const Ground& ground_;
  Run run_;
  std::optional<Instant> last_;  // counted doing or skip
  bool last_was_skip_ = false;
  Date last_day_ = kLongAgo;
  int doings_ = 0;  // counted on last_day_
  std::optional<CareKind> last_kind_;
  Settled settled_;
};

// The once cares of a stage, which share the doings of a kind.
class OnceCount {
 public:
  OnceCount(const Ground& ground, std::size_t index);
  // Days of its stage, also under an earlier version of the plan.
  Date First() const { return first_; }
  void Take(const Deed& deed);
  // Of the care at a place in the stage.
  Verdict At(std::size_t place, const Moment& moment) const;

 private:
  // A care that comes once, with what settled it.
  struct One {
    std::size_t place = 0;  // in the stage
    Run run;
    Date day;              // as the plan wants it
    Date known_from;       // entry, or the plan or answer that gave it
    Date counted;          // known_from at the earliest
    bool unknown = false;  // its time was over before the wheel was known
    std::optional<Deed> settled_by;
  };

  void Add(std::size_t place, Date day, Run run);
  Bounds BoundsOf(const One& care, CareKind kind) const;
  bool IsRepeat(const Deed& deed);
  bool ReplacesSkip(const Deed& deed);

  const Ground& ground_;
  Date first_;
  std::vector<One> cares_;  // in the order of their days
  LastDays last_doing_, last_skip_;
};

// Of a care that was agreed at a fault.
Verdict JudgeAgreed(const Ground& ground, const AgreedDeed& agreed);

}  // namespace rindwatch::rules
