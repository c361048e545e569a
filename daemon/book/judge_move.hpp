// Wheels that are carried to another place, and what begins for them by it.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/book.hpp"

namespace rindwatch {

// "begins": wheels whose plan counts its next part from this arrival (into a box; off the counter, where the round asks
// for it) begin it on the day of the move; the round has no question left for them.
boost::json::object JudgeMove(const Book& book, const boost::json::object& body, JournalLine& line);

}  // namespace rindwatch
