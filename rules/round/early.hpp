// What is not on a round and still may be asked about it: what may be done early, and what comes later today.
#pragma once

#include <optional>
#include <vector>

#include "rules/round/round.hpp"

namespace rindwatch::rules {

struct EarlyLine {
  Date due;
  std::vector<CareKind> kinds;
  RoundPlace place;
  std::optional<Instant> from;     // the hour before which it is not asked, if later today
  std::vector<LotId> lots;         // of its wheels, each once
  std::vector<const Plan*> plans;  // likewise
  std::vector<RoundWheel> wheels;  // by number, then by id
};

// Open: due later, and may be done today. In working order.
std::vector<EarlyLine> OpenLines(const std::vector<const RoundGroup*>& groups);
// The second doing of a day, before its hour.
std::vector<EarlyLine> LaterLines(const std::vector<const RoundGroup*>& groups, Date today);

}  // namespace rindwatch::rules
