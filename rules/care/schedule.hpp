// Which care is due, and when: a pure function of a wheel's history, its cave's calendar and an instant.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rules/care/history.hpp"

namespace rindwatch::rules {

// Where a wheel stands in its plan on a day.
struct Standing {
  std::shared_ptr<const Plan> plan;
  std::size_t part = 0;
  const Stage* stage = nullptr;  // into *plan; null only before the first start event
  int day = 0;                   // day of the part
  int age = 0;                   // days since made (the first part's start)
  Date part_start;               // day 0 of the part
  bool reckoned = false;         // part_start was proposed, not seen
  bool past_plan = false;        // outlived the written end
  std::string branch_option;     // the option followed, answered or default; empty: no branch yet
  bool gone = false;
};

enum class CareState {
  kNotYet,   // before due - tolerance
  kOpen,     // may be done early; not on the round
  kDue,      // due day to due + tolerance
  kLate,     // after that, until done, skipped or retired
  kDone,     // settled on the asked day
  kSkipped,  // settled on the asked day, with a reason
  kRetired,  // the new stage does not have it; named once, on the stage's first day
  kNotDone,  // a once care whose stage ended; named once, on the next stage's first day
};
std::string_view ToText(CareState state);

// One line of a wheel. Lines brought together ("wash with turn") are one line while both are on the round.
struct CareLine {
  std::vector<CareKind> kinds;       // as asked now, the leading one first: {wash, turn}
  std::vector<CareKind> done_kinds;  // of `kinds`, those already done in part today: {turn}
  std::vector<CareKind> skipped_kinds;
  CareState state = CareState::kNotYet;
  Date opens;                         // from this day on it may be done early
  Date due;                           // as moved by care days and away days
  int tolerance = 0;                  // days; the window ends at `window_end`
  Date window_end;                    // last day on which it is not late
  std::optional<Date> late_since;     // its due day, once late
  bool away = false;                  // moved to the day of return
  bool agreed = false;                // asked for by a keeper at a fault
  bool evening = false;               // the second doing of a morning-and-evening care
  std::optional<Instant> not_before;  // morning and evening: before it the line is not yet on the round
  std::optional<Instant> settled_at;  // of a done or skipped line, or of the part that is done already
  ActId settled_by;
  std::string reason;          // of a skip
  const Care* care = nullptr;  // into a plan of the history; null for an agreed care
  bool OnRound() const { return state == CareState::kDue || state == CareState::kLate; }
  bool Settled() const { return state == CareState::kDone || state == CareState::kSkipped; }
};

// With what it brings: a line that is not on the round names its leading kinds alone.
std::vector<CareKind> WholeOf(const CareLine& line);

// A question in the round: never late, no sign line.
struct Question {
  enum class Kind { kStart, kBranch };
  Kind kind = Kind::kStart;
  std::string text;                    // of the plan: "Dry to the touch?"
  StartKind start = StartKind::kMade;  // kStart: the event that a yes names
  std::vector<std::string> options;    // kBranch
  Date asked_from;
};

struct Schedule {
  Standing standing;
  // Every care of the stage in the plan's order: what settled it on the asked day, then what it asks next (a care done
  // today has a line for the doing and a line for the next due day). Then cares agreed at a fault, and what the stage
  // before left behind, on the one day on which it is named.
  std::vector<CareLine> lines;
  std::vector<Question> questions;
  // Without a new act or answer nothing comes on the round before this day that is not on it today, but for a care that
  // waits for its hour; none: never.
  std::optional<Date> next_change;
  // Asked for any instant from the asked one up to, without it, this one, the same history in the same calendar gives
  // this same schedule: at the latest the end of the day.
  Instant holds_until;
};

// The asked day's schedule as known at `asked`. Deterministic; the order of acts in the history does not matter.
Schedule ScheduleAt(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked);

// Every once care whose stage ended undone until then, for the wheel's page.
std::vector<CareLine> NotDoneAt(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked);

// Only where the wheel stands; cheap, for bands and drawings.
Standing StandingAt(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked);

}  // namespace rindwatch::rules
