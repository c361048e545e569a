// What the house's keepers signed, for learning how long they take.
#pragma once

#include <vector>

#include "daemon/book/book.hpp"
#include "rules/round/pace.hpp"

namespace rindwatch {

// Of doings that were signed when they were done, from `since` on; one for each act.
std::vector<rules::Tick> TicksSince(const Book& book, rules::Instant since);

}  // namespace rindwatch
