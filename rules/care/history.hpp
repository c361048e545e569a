// Everything the schedule of one wheel is a function of.
#pragma once

#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "rules/care/act_id.hpp"
#include "rules/plans/kind_set.hpp"
#include "rules/shared_text.hpp"
#include "rules/time.hpp"

namespace rindwatch::rules {

// A doing, a skip, or both ("turned, not washed: rind wet"), of this wheel at an instant.
struct CareAct {
  ActId id;
  Instant at;          // the instant of the tap, or the earlier one that the keeper names
  Instant known_from;  // when it was tapped: asked for an instant before it, it is unknown
  KindSet done;
  KindSet skipped;                    // settles them without being a doing
  SharedText reason;                  // required for a skip
  std::shared_ptr<const Plan> under;  // the version it was done under; null: from before that was kept
  bool operator==(const CareAct&) const = default;
};

// An act that says another never was. May itself be undone. Holds even if it arrives first.
struct UndoAct {
  ActId id;
  ActId of;
  Instant at;
  bool operator==(const UndoAct&) const = default;
};

// A start event that the keeper named, by its day.
struct StartEvent {
  ActId id;
  StartKind kind;
  Date day;               // day 0 of the part
  Instant known_from;     // when it was answered or entered
  bool reckoned = false;  // proposed from the plan's usual length, not seen
  bool operator==(const StartEvent&) const = default;
};

// "Not yet" to a start question needs no memory; a branch answer rules from the whole day on which it is given.
struct BranchAnswer {
  ActId id;
  std::string option;
  Instant at;
  bool operator==(const BranchAnswer&) const = default;
};

struct PlanFrom {
  std::shared_ptr<const Plan> plan;
  Instant from;  // rules from the whole day of this instant
  ActId id;
  bool operator==(const PlanFrom&) const = default;
};

// "Agreed at a fault": a once care asked for a date, which may stand for a pending care.
struct AgreedCare {
  ActId id;
  CareKind kind;
  Date day;
  std::optional<CareKind> stands_for;
  Instant at;
  bool operator==(const AgreedCare&) const = default;
};

struct WheelHistory {
  std::vector<PlanFrom> plans;     // ascending; the first reaches back to its start event
  std::vector<StartEvent> starts;  // the first yes for a kind counts
  std::vector<BranchAnswer> branches;
  std::vector<CareAct> acts;   // any order
  std::vector<UndoAct> undos;  // any order; may name care acts, starts, branch answers, agreed cares
  std::vector<AgreedCare> agreed;
  Instant entered;              // before it nothing is due; what went before is unknown
  std::optional<Instant> gone;  // ends all
};

// The settings of the cave in which the wheel lies at the asked instant.
struct CareCalendar {
  DayTurn turn;
  std::set<unsigned> care_days;  // preferred weekdays, ISO encoding: 1 Monday to 7 Sunday
  std::vector<Date> away;        // days on which nothing becomes late
};

}  // namespace rindwatch::rules
