// A second answer to "which care is due, and when", to hold against the schedule's: written from the rules in words
// alone, a day at a time from the first day of a wheel to the asked one, slow and plain, sharing no code with the
// first.
//
// Of the schedule it uses the types of the question (history, calendar, plans) and the states; of time only what the
// clock on the wall shows. It knows nothing of parts that begin with the first doing of a care.
//
// Where the rules in words leave a choice, it is read here as the schedule reads it:
// - An act of the first part's day 0 counts in the cadence of its first stage, a skip too. An act of a later part's day
//   0 is one in the stage before: a once care of that stage that is done then was done.
// - Of alternate kinds done by one act each is a doing, in the order of the kinds; what is brought comes after what was
//   done itself. What an act skips with a reason it does not bring.
// - A skip typed in for before the entry skips what was due on the day of entry.
// - An answer to a branch names a road, not a plan: given since the part began it holds for a road of that name in a
// later
//   plan too. A start that is answered is not asked, though its day be still to come.
// - A once care that was unknown when it was given is settled by a doing from before; a later one settles the next.
// - No care day brings a once care to the last deed of its kind, or before it, unless it was due by then.
// - Morning and evening: a third doing on a day counts for the six hours. What is not late bears that day's date, what
//   is late that of the first day undone, once it may be done; a day that the clock skips whole counts as one. What the
//   day of return forgave is marked until it is done, but for later away days.
// - While an agreed care is open, what it stands for is not asked beside it, also after its date. It is settled from
//   the day before its date on, at the instant of its asking at the earliest, and of two by the earlier date first.
// - Two lines that come as one are marked as moved by an absence if either is.
// - Retired or not done is what was on the round when the last day of its stage was over. Of a wash with its turn both.
#pragma once

#include "rules/care/schedule.hpp"

namespace rindwatch::rules::testing {

struct ModelLine {
  std::vector<CareKind> kinds, done_kinds, skipped_kinds;
  CareState state = CareState::kNotYet;
  Date opens, due, window_end;
  bool away = false, agreed = false, evening = false;
  std::optional<Instant> not_before;
  ActId settled_by;
};

struct ModelAnswer {
  bool gone = false;
  std::size_t part = 0;
  int day = 0;                           // of the part
  const Stage* stage = nullptr;          // null: before the first start, and on a day 0 that no stage holds
  const Stage* stage_of_acts = nullptr;  // on a day 0 the one before, at the first part its first one
  bool past_plan = false;
  std::string option;            // the road that is followed
  std::vector<ModelLine> lines;  // in no promised order but that of the plan among pending ones
  std::vector<std::string> questions;
};

// Every once care that a stage left undone until then.
std::vector<ModelLine> AskModelNotDone(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked);

ModelAnswer AskModel(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked);

}  // namespace rindwatch::rules::testing
