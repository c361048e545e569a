// What rang and is over, for the morning list: of the night, of the day since, and what no list has told yet.
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

// Under the night stands what ended since six in the evening; what began before that carries its day. What was over
// even before stands apart, if it ended after `told_until` and was no hint.
std::vector<Silence> AddPast(const ApiContext& context, rules::Instant told_until, List& list);

// Until when everybody who reads lists has been told; where nobody does, the hour of the list of the day before.
rules::Instant ToldUntil(const ApiContext& context);

}  // namespace rindwatch::morning
