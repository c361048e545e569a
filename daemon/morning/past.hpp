// What rang and is over, for the morning list: all since the last list.
#pragma once

#include <optional>
#include <vector>

#include "daemon/api/context.hpp"
#include "daemon/morning/facts.hpp"

namespace rindwatch::morning {

// Of a probe, since the last evening.
struct Silence {
  rules::CaveId cave;
  LocalTime from, to;
};

// What ended since `told_until`: by day, or else where it began: before six in the evening of the day before, with its
// day, or in the night. What began and ended by day before that evening only if it was no hint.
std::vector<Silence> AddPast(const ApiContext& context, rules::Instant told_until, List& list);

// Until when everybody who reads lists has been told; where nobody does, the hour of the list of the day before.
rules::Instant ToldUntil(const ApiContext& context);

}  // namespace rindwatch::morning
