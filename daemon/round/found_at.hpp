// Why a keeper who agreed at a fault is asked to look: what was found, and where.
#pragma once

#include <vector>

#include "daemon/book/book.hpp"
#include "rules/round/round.hpp"

namespace rindwatch {

// The faults at which the line's care was agreed, each what and place once; none where it is a care of the plan, or the
// line's own mark says it already. Good until the book takes in another fact.
std::vector<const FaultSeen*> FoundAt(const Book& book, const rules::RoundLine& line);

}  // namespace rindwatch
