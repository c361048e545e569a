// What a line of the journal changed of a cave's limits: from what to what. The loop's thread.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/book.hpp"

namespace rindwatch {

// Adds `limits` to the line where it is a keeper's of limits or of how a cave is judged, and something differs from
// what held before it; as far as no undo took that away.
void AddLimitsChange(const Book& book, const JournalLine& line, boost::json::object& into);

}  // namespace rindwatch
