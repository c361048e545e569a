// The stages through which one care runs: same kinds and cadence, adjoining.
#pragma once

#include <vector>

#include "rules/care/ground.hpp"

namespace rindwatch::rules {

// Lives while one schedule is made.
struct Run {
  const Care* care = nullptr;  // as the asked stage has it
  KindSet kinds;               // of the care
  Date first, last;            // of its stages; kForEver: without an end
  Date acts_from;              // `first`, or the days 0 before it whose acts belong to its first stage

  bool Asks(CareKind kind) const { return kinds.Has(kind); }
  // Of alternate kinds the one listed after the one last done.
  CareKind KindAfter(CareKind done) const;
  // The tolerance may differ from stage to stage.
  int ToleranceOn(Date day) const;

  std::vector<std::pair<Date, const Care*>> stages;  // first day of each, ascending
};

// The run of the `care` of the segment at `index`.
Run RunOf(const Ground& ground, std::size_t index, const Care& care);

}  // namespace rindwatch::rules
