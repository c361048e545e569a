// What each kind of act must say, and what the daemon adds to it.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/beside.hpp"
#include "daemon/book/book.hpp"

namespace rindwatch {

// Fills in the line's wheels and cave and returns what the daemon gives: new numbers, days, plan versions. Throws
// ActFault.
boost::json::object JudgeKind(const Book& book, const boost::json::object& body, JournalLine& line,
                              const Beside& beside);

}  // namespace rindwatch
