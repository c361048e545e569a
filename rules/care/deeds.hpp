// Acts taken apart: one doing or one skip of one kind, with what it brings.
#pragma once

#include <vector>

#include "rules/care/timeline.hpp"

namespace rindwatch::rules {

// Of a care of morning and evening: between two doings of a day, and before the first of the next.
inline constexpr std::chrono::hours kRest{6};

struct Deed {
  Instant at;
  Date day;  // the keeper's
  CareKind kind = CareKind::kTurn;
  bool skip = false;
  bool by_hours = false;  // of a care of morning and evening, in the stage of its day
  bool repeat = false;    // recorded, and no last doing or skip to count from
  const CareAct* act = nullptr;
};

// The care that a keeper asked for at a fault, and the deed that settled it.
struct AgreedDeed {
  const AgreedCare* care = nullptr;
  Date asked_on;
  std::optional<Deed> settled_by;
};

struct Deeds {
  // Ascending by instant; at one instant skips first, then doings, each by the act's id.
  std::vector<Deed> list;
  std::vector<AgreedDeed> agreed;  // in the order of their days
};

// Days by the cave's day turn; what a doing brings by the stage of its day.
Deeds DeedsOf(const Known& known, const Timeline& timeline, const DayTurn& turn);
// One act more among deeds without agreed cares. Nothing at or before its instant is taken in after it.
void AddAct(const CareAct& act, Date day, const Timeline& timeline, Deeds& deeds);

}  // namespace rindwatch::rules
